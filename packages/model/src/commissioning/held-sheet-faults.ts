import { entriesOf, type Entry } from "../fields/entries.ts";
import type { FieldFault } from "../fields/field-fault.ts";
import type { HeldSheet } from "../setting-sheet/held-sheet.ts";

/** Steps that go by the digest of a sheet at hand read as they do there, and none of them is left out. */
export function* heldSheetFaults(
  data: Readonly<Record<string, unknown>>,
  sheets: readonly HeldSheet[],
): Generator<FieldFault> {
  for (const one of entriesOf({ path: [], fields: data }, "settings")) {
    const { sheet: id, digest, steps: listed } = one.fields;
    const held = sheets.find((known) => known.sheet.id === id && known.digest === digest);
    if (held === undefined || !Array.isArray(listed)) continue;
    const steps = entriesOf(one, "steps");
    const wanted = held.sheet.steps;
    if (listed.length !== wanted.length)
      yield {
        code: "COMMISSIONING_SHEET_STEPS_WRONG",
        path: [...one.path, "steps"],
        part: "value",
        value: listed,
        allowed: `${wanted.length} steps`,
        message: `Sheet ${held.sheet.id} has ${wanted.length} steps, and ${listed.length} are stated.`,
      };
    yield* otherWords(steps, held);
  }
}

function* otherWords(steps: readonly Entry[], { sheet }: HeldSheet): Generator<FieldFault> {
  for (const { path, fields } of steps) {
    const { step, do: text } = fields;
    const wanted = typeof step === "number" ? sheet.steps[step - 1] : undefined;
    if (wanted === undefined || typeof text !== "string" || text === wanted.do) continue;
    yield {
      code: "COMMISSIONING_SHEET_ALTERED",
      path: [...path, "do"],
      part: "value",
      value: text,
      allowed: wanted.do,
      message: `Step ${String(step)} of sheet ${sheet.id} reads otherwise.`,
    };
  }
}
