import type { RulePack } from "@earthbell/engine";
import type * as z from "zod";
import type { ReadOptions } from "../door/open-document.ts";
import { readRecord, type Format } from "../door/read-record.ts";
import type { ReadResult } from "../faults/input-fault.ts";
import { rulePackConsistency } from "./rule-pack-consistency.ts";
import { RULE_PACK_FORMAT, rulePackFile } from "./rule-pack-file.ts";

const rulePackFormat: Format<z.output<typeof rulePackFile>, RulePack> = {
  name: RULE_PACK_FORMAT,
  fields: rulePackFile,
  consistency: rulePackConsistency,
  record: (file) => file,
};

/**
 * Reads one rule pack (`earthbell.rules/1`, YAML or JSON).
 *
 * @returns the pack, or every fault of the file at once in order of line. Never throws.
 */
export function readRulePack(
  source: string | Uint8Array,
  file: string,
  options: ReadOptions = {},
): ReadResult<RulePack> {
  return readRecord(rulePackFormat, source, file, options);
}
