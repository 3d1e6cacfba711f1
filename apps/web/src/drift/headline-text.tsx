import type { Headline } from "@earthbell/engine";
import { State } from "../page/state.tsx";

/** What stands first about a history: that it is below the threshold, and then what its past shows. */
export function HeadlineText({ headline: { reached, below, pattern } }: { readonly headline: Headline }) {
  if (below === null) return <strong>{pattern}</strong>;
  return (
    <>
      <State state={reached === "newest" ? "fault" : "must"} word={below} /> History: {pattern}.
    </>
  );
}
