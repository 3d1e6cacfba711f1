import type { FaultCode } from "../faults/catalogue.ts";
import { datesReversed } from "../fields/dates-reversed.ts";
import { duplicateIds, entriesOf, entryOf, type Entry } from "../fields/entries.ts";
import type { FieldFault } from "../fields/field-fault.ts";

/** What the schema cannot see: ids, spans that are empty, and tables with gaps. */
export function* rulePackConsistency(data: Readonly<Record<string, unknown>>): Generator<FieldFault> {
  const root: Entry = { path: [], fields: data };
  const duty = entriesOf(root, "duty");
  yield* duplicateIds(duty, "Row");
  for (const window of entriesOf(root, "inForce")) yield* datesReversed(window, "from", "until");
  for (const row of duty) yield* settledBy(row);
  for (const holder of [...duty, ...entriesOf(root, "notes")])
    for (const condition of entriesOf(holder, "when")) yield* emptyCondition(condition);
  const threshold = entryOf(root, "insulationThreshold");
  if (threshold) yield* joinedRows(entriesOf(threshold, "rows"));
  const residual = entriesOf(root, "residual");
  yield* joinedRows(residual);
  for (const row of residual) yield* oneForm(row);
  yield* risingEnds(entriesOf(root, "insulationTest"));
}

function faultAt(entry: Entry, field: string, code: FaultCode, allowed: string, message: string): FieldFault {
  return { code, path: [...entry.path, field], part: "value", value: entry.fields[field], allowed, message };
}

function* settledBy(row: Entry): Generator<FieldFault> {
  const { alarm, settledBy: written } = row.fields;
  if (written === undefined || alarm === "undecided") return;
  const message = "The row decides, so that nothing is left to settle.";
  yield faultAt(
    row,
    "settledBy",
    "RULES_SETTLED_BY_MISPLACED",
    "settledBy with alarm: undecided only",
    message,
  );
}

const COUNTED = ["max-voltage", "power-kilowatts", "parallel-strings"];

function* emptyCondition(condition: Entry): Generator<FieldFault> {
  yield* datesReversed(condition, "from", "until");
  const { fact, above, atMost } = condition.fields;
  if (typeof fact !== "string" || !COUNTED.includes(fact)) return;
  const code = "RULES_BOUNDS_INVALID";
  if (above === undefined && atMost === undefined)
    yield faultAt(condition, "fact", code, "above, atMost or both beside it", `${fact} has no bound.`);
  if (typeof above === "number" && typeof atMost === "number" && above >= atMost)
    yield faultAt(
      condition,
      "atMost",
      code,
      `a number above ${above}`,
      `No number is above ${above} and at most ${atMost}.`,
    );
}

/** Rows ascend from 0 without gap or overlap, and only the last is open. */
function* joinedRows(rows: readonly Entry[]): Generator<FieldFault> {
  let end: unknown = 0;
  for (const [at, row] of rows.entries()) {
    const { above, atMost } = row.fields;
    const begins = typeof end === "number" && typeof above === "number" && above !== end;
    const code = "RULES_ROWS_NOT_JOINED";
    if (begins)
      yield faultAt(
        row,
        "above",
        code,
        String(end),
        `The row begins at ${above}, and ${String(end)} is due.`,
      );
    if (typeof above === "number" && typeof atMost === "number" && atMost <= above)
      yield faultAt(
        row,
        "atMost",
        "RULES_BOUNDS_INVALID",
        `a number above ${above}`,
        "The row ends before it begins.",
      );
    const last = at === rows.length - 1;
    if (last && atMost !== undefined)
      yield faultAt(row, "atMost", code, "no end on the last row", "The last row has an end.");
    if (!last && atMost === undefined)
      yield faultAt(
        row,
        "atMost",
        code,
        "an end on every row but the last",
        "The row has no end, and rows follow it.",
      );
    end = atMost;
  }
}

function* oneForm(row: Entry): Generator<FieldFault> {
  const { milliamps, milliampsPerKilovoltampere } = row.fields;
  if ((milliamps === undefined) !== (milliampsPerKilovoltampere === undefined)) return;
  const allowed = "milliamps or milliampsPerKilovoltampere";
  const message =
    milliamps === undefined ? "The row gives no current." : "The row gives the current in both forms.";
  yield faultAt(row, "milliamps", "RULES_RESIDUAL_FORM_INVALID", allowed, message);
}

/** Each row but the last has one end, below or atMost, and the ends rise. */
function* risingEnds(rows: readonly Entry[]): Generator<FieldFault> {
  let before = 0;
  for (const [at, row] of rows.entries()) {
    const { below, atMost } = row.fields;
    const last = at === rows.length - 1;
    const ends = [below, atMost].filter((end) => end !== undefined);
    const code = "RULES_ROWS_NOT_JOINED";
    const field = below === undefined ? "atMost" : "below";
    if (ends.length !== (last ? 0 : 1))
      yield faultAt(
        row,
        field,
        code,
        last ? "no end on the last row" : "below or atMost",
        `The row has ${ends.length} ends.`,
      );
    const [end] = ends;
    if (typeof end !== "number") continue;
    // "below 120" and then "at most 120" leave exactly 120 to the second row.
    const rises = end > before || (end === before && field === "atMost" && at > 0);
    if (!rises)
      yield faultAt(
        row,
        field,
        code,
        `at least ${before}`,
        `The row ends at ${end}, before the row above it.`,
      );
    before = end;
  }
}
