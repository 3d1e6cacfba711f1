import { proofPlan } from "@earthbell/engine";
import { type HeldSheet, readCommissioning, type ReadResult, readSite } from "@earthbell/model";
import { type Json, jsonOf } from "../identity/canonical.ts";
import { commissioningRecord } from "../kinds/commissioning-record/commissioning-record.ts";
import type { Extra, Prepared, Source } from "./recipe.ts";
import { siteInput } from "./site-input.ts";

/** A commissioning record to be filled in, or one with results that were checked against the steps of the site. */
export function prepareCommissioning(
  source: Source,
  { results: file, packs = [], sheets = [] }: Extra,
): ReadResult<Prepared> {
  const read = readSite(source.bytes, source.file);
  if (!read.ok) return read;
  const site = read.record;
  const results =
    file === undefined
      ? null
      : readCommissioning(file.bytes, file.file, proofPlan(site, { packs }), { sheets });
  if (results !== null && !results.ok) return results;
  const record = results?.record ?? null;
  const made = siteInput("commissioning-record", site, packs) as Readonly<Record<string, Json>>;
  return {
    ...read,
    record: {
      of: site.id,
      input: {
        ...made,
        ...(record === null ? {} : { results: jsonOf(record) }),
        ...(sheets.length === 0 ? {} : { sheets: sheets.map(heldAs) }),
      },
      paper: (issue) => commissioningRecord(site, issue, { results: record, packs, sheets }),
    },
  };
}

/** A sheet at hand, as far as the record depends on it. */
function heldAs({ sheet: { id }, revision, digest }: HeldSheet): Json {
  return { id, revision, digest };
}
