import type { FaultCode } from "../faults/catalogue.ts";
import { entriesOf, type Entry } from "../fields/entries.ts";
import type { FieldFault } from "../fields/field-fault.ts";

/** What the schema cannot see of ticked setting sheets: every step in its place, and each saying one thing. */
export function* settingsFaults(root: Entry): Generator<FieldFault> {
  const settings = entriesOf(root, "settings");
  yield* tickedTwice(settings);
  for (const one of settings) {
    const steps = entriesOf(one, "steps");
    yield* outOfPlace(steps);
    for (const step of steps) yield* tickFaults(step);
  }
}

function faultAt(entry: Entry, field: string, code: FaultCode, allowed: string, message: string): FieldFault {
  return { code, path: [...entry.path, field], part: "value", value: entry.fields[field], allowed, message };
}

function* tickedTwice(settings: readonly Entry[]): Generator<FieldFault> {
  const seen = new Set<string>();
  for (const one of settings) {
    const { sheet, device } = one.fields;
    if (typeof sheet !== "string") continue;
    const which = JSON.stringify([sheet, device ?? null]);
    const of = typeof device === "string" ? `the device ${device}` : "a device without a name";
    const message = `Sheet ${sheet} is already ticked above for ${of}.`;
    if (seen.has(which))
      yield faultAt(one, "sheet", "COMMISSIONING_SHEET_TWICE", "each sheet once for each device", message);
    seen.add(which);
  }
}

function* outOfPlace(steps: readonly Entry[]): Generator<FieldFault> {
  for (const [at, step] of steps.entries()) {
    const { step: number } = step.fields;
    if (typeof number !== "number" || number === at + 1) continue;
    const message = `Step ${number} stands where step ${at + 1} of the sheet belongs.`;
    yield faultAt(step, "step", "COMMISSIONING_SHEET_STEPS_WRONG", String(at + 1), message);
    return;
  }
}

const NEEDS = new Map<unknown, readonly string[]>([
  [true, ["by", "on"]],
  [false, ["because"]],
]);
const BARS = new Map<unknown, readonly string[]>([
  [true, ["because"]],
  [undefined, ["by", "on", "at", "because"]],
]);

function* tickFaults(step: Entry): Generator<FieldFault> {
  const { done } = step.fields;
  const state = done === true ? "is done" : done === false ? "is not done" : "is left open";
  const number = typeof step.fields["step"] === "number" ? step.fields["step"] : "?";
  for (const field of NEEDS.get(done) ?? [])
    if (step.fields[field] === undefined)
      yield faultAt(
        step,
        field,
        "INPUT_FIELD_MISSING",
        field === "because" ? "the reason" : field === "by" ? "who ticked it" : "the day, written YYYY-MM-DD",
        `Step ${number} ${state}, and ${field} is missing.`,
      );
  for (const field of BARS.get(done) ?? [])
    if (step.fields[field] !== undefined)
      yield faultAt(
        step,
        field,
        "COMMISSIONING_TICK_CONTRADICTED",
        done === true ? "nothing there, or done: false" : "nothing there, or done: true or false",
        `Step ${number} ${state}, and ${field} is given.`,
      );
}
