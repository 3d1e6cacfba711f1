import { State } from "../page/state.tsx";
import type { StepStanding } from "./step-standing.ts";

/** How a step stands, and how much of it is entered. */
export function StandingWords({ standing: { state, word, entered } }: { readonly standing: StepStanding }) {
  return (
    <>
      <State state={state} word={word} />
      {entered === undefined ? null : <span className="soft">, {entered}</span>}
    </>
  );
}
