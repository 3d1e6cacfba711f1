import {
  alternativeOf,
  type Expected,
  type ProofPlan,
  type ProofStep,
  STEPS_OF_THE_ARRAY,
} from "@earthbell/engine";
import { blankResult, type CommissioningForm, type ResultEntry, type Slot } from "./commissioning-form.ts";

/** One thing to be read or seen at a step: a line, or lines of which one is measured. */
export interface ProofLine {
  /** `3.2`. */
  readonly number: string;
  readonly slot: Slot;
  /** What it should show; null where the step has no table. */
  readonly expected: Expected | null;
  /** Lines that differ in the temperature of the cells alone, itself among them; empty where there is no choice. */
  readonly alternatives: readonly { readonly line: number; readonly expected: Expected }[];
}

export interface PlannedStep {
  readonly number: number;
  readonly step: ProofStep;
  readonly lines: readonly ProofLine[];
}

/** Array and path, with the steps that are done for them. */
export interface PlannedProof {
  readonly array: string;
  readonly path: string;
  /** The tests of the array stand at an earlier path of it. */
  readonly after: boolean;
  readonly steps: readonly PlannedStep[];
}

/** The proof plan as it is worked through: tests of an array once, at its first path. */
export function plannedProofs({ proofs }: ProofPlan): readonly PlannedProof[] {
  const met = new Set<string>();
  return proofs.map(({ array, path, steps }) => {
    const after = met.has(array);
    met.add(array);
    const single = proofs.filter((one) => one.array === array).length === 1;
    const done = steps.filter(({ id }) => !after || !STEPS_OF_THE_ARRAY.has(id));
    return {
      ...{ array, path, after },
      steps: done.map((step, at) => {
        const own = single || STEPS_OF_THE_ARRAY.has(step.id) ? null : path;
        return { number: at + 1, step, lines: linesOf(step, at + 1, { array, path: own, step: step.id }) };
      }),
    };
  });
}

function linesOf(
  { leftOut, expected }: ProofStep,
  number: number,
  of: Omit<Slot, "line">,
): readonly ProofLine[] {
  if (leftOut !== null) return [];
  if (expected.length === 0)
    return [{ number: String(number), slot: { ...of, line: null }, expected: null, alternatives: [] }];
  const lines = expected.map((one, at) => ({ line: at + 1, expected: one }));
  const same = expected.map(alternativeOf);
  return lines.flatMap(({ line, expected: first }, at) => {
    if (same.indexOf(same[at]!) !== at) return [];
    const alike = lines.filter((_, other) => same[other] === same[at]);
    const alternatives = alike.length === 1 ? [] : alike;
    return [{ number: `${number}.${line}`, slot: { ...of, line }, expected: first, alternatives }];
  });
}

/** What is entered for a line; one blank entry where nothing is. */
export function entriesOf({ results }: CommissioningForm, line: ProofLine): readonly ResultEntry[] {
  const found = results.filter((one) => belongs(one, line) && one.path === line.slot.path);
  return found.length === 0 ? [blankResult(line.slot, keyOf(line.slot))] : found;
}

/** What a file says of a line for every path of its array at once. */
export function entriesForEveryPath({ results }: CommissioningForm, line: ProofLine): readonly ResultEntry[] {
  if (line.slot.path === null) return [];
  return results.filter((one) => belongs(one, line) && one.path === null);
}

function belongs(one: ResultEntry, { slot, alternatives, expected }: ProofLine): boolean {
  if (one.array !== slot.array || one.step !== slot.step) return false;
  // A file may leave the line out where it is the first.
  const line = expected === null ? one.line : (one.line ?? 1);
  return line === slot.line || alternatives.some((alternative) => alternative.line === line);
}

const keyOf = ({ array, path, step, line }: Slot): string =>
  [array, path ?? "", step, line ?? ""].map((part) => encodeURIComponent(part)).join("/");

/** The line that an entry is of, by which its reading is judged. */
export function expectedOf(line: ProofLine, { line: chosen }: Pick<ResultEntry, "line">): Expected | null {
  return line.alternatives.find((one) => one.line === chosen)?.expected ?? line.expected;
}
