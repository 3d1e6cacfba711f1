import type { AlarmLoop } from "../assess/site.ts";
import type { EndOfLine, InterposingRelay, LoopChange, LoopRequest } from "./loop-design.ts";

/** A design under way: each step looks at it and hands on a better one. */
export interface Draft {
  readonly request: LoopRequest;
  readonly loop: AlarmLoop;
  readonly relay: InterposingRelay | null;
  readonly endOfLine: EndOfLine | null;
  readonly changes: readonly LoopChange[];
  readonly unsolved: readonly string[];
}

export type Step = (draft: Draft) => Draft;

/** The draft with a changed loop and the change on record. */
export function changed(draft: Draft, loop: Partial<AlarmLoop>, change: LoopChange): Draft {
  return { ...draft, loop: { ...draft.loop, ...loop }, changes: [...draft.changes, change] };
}

export function stuck(draft: Draft, words: string): Draft {
  return { ...draft, unsolved: [...draft.unsolved, words] };
}
