import { proofPlan } from "@earthbell/engine";
import { readCommissioning, type ReadResult, readSite } from "@earthbell/model";
import { type Json, jsonOf } from "../identity/canonical.ts";
import { commissioningRecord } from "../kinds/commissioning-record/commissioning-record.ts";
import type { Extra, Prepared, Source } from "./recipe.ts";
import { siteInput } from "./site-input.ts";

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
  const made = siteInput("commissioning-record", site, packs) as Readonly<Record<string, Json>>;
  return {
    ...read,
    record: {
      of: site.id,
      input: record === null ? made : { ...made, results: jsonOf(record) },
      paper: (issue) => commissioningRecord(site, issue, record, packs),
    },
  };
}
