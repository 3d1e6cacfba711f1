import type { SheetEntry } from "./ticked-sheet.ts";

/** One reading, tick or word of a line, as it stands in the form. */
export interface ResultEntry {
  readonly key: string;
  readonly array: string;
  /** null: it holds for every path of the array. */
  readonly path: string | null;
  readonly step: string;
  /** null where the step has no table. */
  readonly line: number | null;
  readonly at: string;
  readonly reading: string;
  /** Put behind a reading that was typed as a bare number. */
  readonly unit: string;
  readonly with: string;
  readonly limit: string;
  readonly limitFrom: string;
  readonly passed: Answer;
  readonly note: string;
}

/** `""`: not answered, or left to the limit. */
export type Answer = "" | "yes" | "no";

export interface ConditionEntry {
  readonly time: string;
  readonly sky: string;
  readonly array: string;
  readonly air: string;
  readonly module: string;
  readonly irradiance: string;
}

export interface InstrumentEntry {
  readonly id: string;
  readonly what: string;
  readonly number: string;
  readonly calibrated: string;
  readonly provedBefore: boolean;
  readonly provedAfter: boolean;
}

export interface DrillEntry {
  readonly path: string;
  readonly raised: string;
  readonly acknowledgedBy: string;
  readonly acknowledged: string;
  readonly proved: Answer;
  readonly note: string;
}

export const SIGNERS = [
  ["tested", "Tested by"],
  ["witnessed", "Witnessed by"],
  ["handed-over", "Handed over to"],
] as const;
type Signer = (typeof SIGNERS)[number][0];

export interface SignatureEntry {
  readonly as: Signer;
  readonly name: string;
  readonly on: string;
}

/** The form of a commissioning: everything as it was typed, and what was ticked before each step. */
export interface CommissioningForm {
  readonly on: string;
  readonly name: string;
  readonly licence: string;
  readonly conditions: readonly ConditionEntry[];
  readonly instruments: readonly InstrumentEntry[];
  readonly results: readonly ResultEntry[];
  readonly settings: readonly SheetEntry[];
  readonly drills: readonly DrillEntry[];
  readonly signatures: readonly SignatureEntry[];
  /** Preconditions that were made sure of, by array, path, step and id. They do not go into the record. */
  readonly ticks: readonly string[];
}

export type ChangeForm = (how: (form: CommissioningForm) => CommissioningForm) => void;

export const BLANK_CONDITION: ConditionEntry = {
  time: "",
  sky: "",
  array: "",
  air: "",
  module: "",
  irradiance: "",
};

export function blankInstrument(before: readonly InstrumentEntry[]): InstrumentEntry {
  const taken = new Set(before.map(({ id }) => id));
  const letters = Array.from({ length: 26 }, (_, at) => String.fromCharCode(65 + at));
  const id = letters.find((letter) => !taken.has(letter)) ?? `I${before.length + 1}`;
  return { id, what: "", number: "", calibrated: "", provedBefore: false, provedAfter: false };
}

export function blankDrill(path: string): DrillEntry {
  return { path, raised: "", acknowledgedBy: "", acknowledged: "", proved: "", note: "" };
}

export const BLANK_FORM: CommissioningForm = {
  on: "",
  name: "",
  licence: "",
  conditions: [BLANK_CONDITION],
  instruments: [blankInstrument([])],
  results: [],
  settings: [],
  drills: [],
  signatures: [],
  ticks: [],
};

/** The place of a result in the proof plan. */
export type Slot = Pick<ResultEntry, "array" | "path" | "step" | "line">;

export function blankResult(slot: Slot, key: string): ResultEntry {
  const words = { at: "", reading: "", unit: "", with: "", limit: "", limitFrom: "", note: "" } as const;
  return { ...slot, key, ...words, passed: "" };
}

/** Changes one result, or adds it where it was blank so far. */
export function withResult(form: CommissioningForm, entry: ResultEntry): CommissioningForm {
  const known = form.results.some(({ key }) => key === entry.key);
  const results = known
    ? form.results.map((one) => (one.key === entry.key ? entry : one))
    : [...form.results, entry];
  return { ...form, results };
}

export function withoutResult(form: CommissioningForm, key: string): CommissioningForm {
  return { ...form, results: form.results.filter((one) => one.key !== key) };
}

/** The list with one of its entries changed. */
export function changedAt<Entry>(
  list: readonly Entry[],
  at: number,
  change: Partial<Entry>,
): readonly Entry[] {
  return list.map((one, index) => (index === at ? { ...one, ...change } : one));
}
