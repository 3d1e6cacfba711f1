import type { RulePack, ValueOverride } from "@earthbell/engine";
import type * as z from "zod";
import type { ReadOptions } from "../door/open-document.ts";
import { readRecord } from "../door/read-record.ts";
import type { ReadResult } from "../faults/input-fault.ts";
import { ruleOverridesConsistency } from "./rule-overrides-consistency.ts";
import { RULE_OVERRIDES_FORMAT, ruleOverridesFile } from "./rule-overrides-file.ts";

/**
 * Reads overrides of rule values (`earthbell.rule-overrides/1`, YAML or JSON), as a desk hands them out.
 *
 * @param held  the rule packs whose values they may replace: those of the program and the reader's own
 * One of which the pack says another value by now is read, and set aside by `packsInForce`.
 *
 * @returns the overrides, to be given to `packsInForce`, or every fault of the file at once in order of line. Never throws.
 */
export function readRuleOverrides(
  source: string | Uint8Array,
  file: string,
  held: readonly RulePack[],
  options: ReadOptions = {},
): ReadResult<readonly ValueOverride[]> {
  return readRecord(
    {
      name: RULE_OVERRIDES_FORMAT,
      fields: ruleOverridesFile,
      consistency: (data) => ruleOverridesConsistency(data, held),
      record: ({ overrides }: z.output<typeof ruleOverridesFile>): readonly ValueOverride[] =>
        overrides.map(({ source: from, confirmed: _, ...one }) => ({ ...one, source: from })),
    },
    source,
    file,
    options,
  );
}
