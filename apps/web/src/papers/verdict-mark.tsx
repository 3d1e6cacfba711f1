import { State } from "../page/state.tsx";
import type { FileVerdict } from "./paper-records.ts";

const SHOWN = {
  valid: ["proven", "Valid"],
  altered: ["fault", "Altered"],
  "unknown-key": ["unsure", "Unknown key"],
  missing: ["unsure", "Not there any more"],
} as const;

/** What a signature says of a file: a mark, a word and a colour. One without a signature has the word alone. */
export function VerdictMark({ verdict }: { readonly verdict: FileVerdict }) {
  if (verdict === "unsigned") return <span className="soft small">not signed</span>;
  const [state, word] = SHOWN[verdict];
  return <State state={state} word={word} />;
}
