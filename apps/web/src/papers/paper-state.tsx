import { State } from "../page/state.tsx";
import { type PaperState, STATE_WORDS } from "./paper-records.ts";

const SHOWN = { outdated: "unsure", current: "proven" } as const;

/** How a paper stands: a mark, a word and a colour. That one is lacking is no alarm, so it has the word alone. */
export function PaperStateMark({ state }: { readonly state: PaperState }) {
  if (state === "lacking") return <span className="soft">{STATE_WORDS.lacking}</span>;
  return <State state={SHOWN[state]} word={STATE_WORDS[state]} />;
}
