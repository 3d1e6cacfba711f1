import type { Site } from "@earthbell/engine";
import type { Case } from "@earthbell/model";
import { canonicalJson, jsonOf, paperNumber } from "@earthbell/papers";
import type { DeskStore } from "../store/index.ts";
import { faultRecords, type Reported, reportOf } from "./fault-records.ts";
import type { KnownPaper } from "./paper-index.ts";
import type { PaperOffice } from "./paper-office.ts";
import type { PaperState } from "./site-standings.ts";

/** Newest cases of a site that are looked at for their report. */
const MOST_CASES = 200;

/** A report of a site: one that was issued, or one that a closed case lacks. */
export interface ReportStanding {
  readonly number: string;
  /** null: made from a file, which does not age. */
  readonly state: PaperState | null;
  readonly known: KnownPaper | null;
}

/** How the reports of a site stand against what is on record of its cases and visits now, the newest case first. */
export async function reportStandings(
  { db }: DeskStore,
  site: Site,
  { index, digest }: Pick<PaperOffice, "index" | "digest">,
): Promise<readonly ReportStanding[]> {
  const numberOf = (name: string): string =>
    paperNumber({ kind: "fault-report", of: reportOf(site.id, name), language: "en" });
  const standing = async (known: KnownPaper, of: Reported): Promise<PaperState | null> => {
    const records = await faultRecords(db, site, of);
    if (records === null) return null;
    return digest(canonicalJson(jsonOf(records))) === known.siteDigest ? "current" : "outdated";
  };
  const rows = await db
    .selectFrom("fault_case")
    .select("case_json")
    .where("site", "=", site.id)
    .orderBy("opened_at", "desc")
    .limit(MOST_CASES)
    .execute();
  const lines: ReportStanding[] = [];
  for (const { id, closed } of rows.map(({ case_json }) => JSON.parse(case_json) as Case)) {
    const number = numberOf(id);
    const known = await index.refresh(number);
    if (known !== null) lines.push({ number, known, state: await standing(known, { case: id }) });
    else if (closed !== null) lines.push({ number, known, state: "lacking" });
  }
  const told = new Set(lines.map(({ number }) => number));
  const own = reportOf(site.id, "");
  for (const known of (await index.all()).values()) {
    const { kind, number, of } = known;
    if (kind !== "fault-report" || !of.startsWith(own) || told.has(number)) continue;
    lines.push({ number, known, state: await standing(known, { visit: of.slice(own.length) }) });
  }
  return lines;
}
