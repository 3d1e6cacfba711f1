import { proofPlan } from "@earthbell/engine";
import { readCommissioning, type ReadResult, readSite } from "@earthbell/model";
import { jsonOf } from "../identity/canonical.ts";
import { commissioningRecord } from "../kinds/commissioning-record/commissioning-record.ts";
import { withRules } from "./rules-input.ts";
import type { Extra, Prepared, Source } from "./recipe.ts";

/** A commissioning record to be filled in, or one with results that were checked against the steps of the site. */
export function prepareCommissioning(
  source: Source,
  { results: file, packs = [] }: Extra,
): ReadResult<Prepared> {
  const read = readSite(source.bytes, source.file);
  if (!read.ok) return read;
  const site = read.record;
  const results =
    file === undefined ? null : readCommissioning(file.bytes, file.file, proofPlan(site, { packs }));
  if (results !== null && !results.ok) return results;
  const record = results?.record ?? null;
  return {
    ...read,
    record: {
      of: site.id,
      input: withRules(jsonOf(record === null ? site : { ...site, results: record }), packs),
      paper: (issue) => commissioningRecord(site, issue, record, packs),
    },
  };
}
