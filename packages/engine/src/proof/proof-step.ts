import type { Reason } from "../assess/assessment.ts";
import type { Dimension } from "../quantity/index.ts";
import { cautionsFor, type PreconditionId, preconditionsFor, type SafetyAction } from "../safety/index.ts";

/** What a step should show: in words, and as a figure where there is one. */
export interface Expected extends Reason {
  readonly value?: number;
  readonly dimension?: Dimension;
  /** Which side of the figure is sound, where only one is. */
  readonly bound?: "at-least" | "at-most";
}

/** Lines of a step that tell the same differ in the temperature of the cells alone: one of them is measured, at the temperature there was. */
export function alternativeOf({ text }: Expected): string {
  return text.replace(/, cells at .*$/u, "");
}

/** One step of a commissioning sequence. Cautions are read, and preconditions recorded, before it. */
export interface ProofStep {
  readonly id: string;
  readonly do: string;
  /** Ids of cautions, in the order in which they are read. */
  readonly cautions: readonly string[];
  /** Cautions of this very connection, in words. */
  readonly warnings: readonly string[];
  readonly requires: readonly PreconditionId[];
  readonly expected: readonly Expected[];
  /** Why the step is left out; null: it is to be done. */
  readonly leftOut: string | null;
}

interface StepText {
  readonly id: string;
  readonly do: string;
  readonly expected?: readonly Expected[];
  readonly warnings?: readonly string[];
  /** Instead of all that the action asks for. */
  readonly requires?: readonly PreconditionId[];
}

/** A step to be done, with the cautions and preconditions of its kind of action. */
export function stepOf(
  action: SafetyAction,
  { id, do: text, expected, warnings, requires }: StepText,
): ProofStep {
  return {
    id,
    do: text,
    cautions: cautionsFor(action).map((caution) => caution.id),
    warnings: warnings ?? [],
    requires: requires ?? preconditionsFor(action),
    expected: expected ?? [],
    leftOut: null,
  };
}

/** A step that stays in the sequence so that its absence is seen. Nothing of it is to be done, so it asks for nothing. */
export function leftOut(id: string, text: string, why: string): ProofStep {
  return { id, do: text, cautions: [], warnings: [], requires: [], expected: [], leftOut: why };
}
