import type { Headline } from "@earthbell/engine";
import { State } from "../page/state.tsx";

const NOW = { state: "fault", word: "Alarm" } as const;
const LATELY = { state: "must", word: "Look into it" } as const;

/** What stands first about a history: that it is below the threshold, and then what its past shows. */
export function HeadlineText({ headline: { reached, below, pattern } }: { readonly headline: Headline }) {
  if (below === null) return <strong>{pattern}</strong>;
  return (
    <>
      {/* The state alone in bold and colour: a whole sentence of it is hard to read, and does not break on a phone. */}
      <State {...(reached === "newest" ? NOW : LATELY)} /> {below} History: {pattern}.
    </>
  );
}
