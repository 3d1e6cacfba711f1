import type { Site } from "@earthbell/engine";
import type { Alarm, Case } from "@earthbell/model";
import type { FaultRecords } from "@earthbell/papers";
import type { Asking } from "../store/index.ts";
import { listHanded, readHanded } from "../visits/read-visits.ts";

/** Visits of one case that go into its report. */
const MOST_VISITS = 50;

/** What a report is made about: a case with all its visits, or a single visit. */
export type Reported = { readonly case: string } | { readonly visit: string };

/** A report goes under its site, so that whoever may see the site may see it. */
export function reportOf(site: string, name: string): string {
  return `${encodeURIComponent(site)}/${name}`;
}

/**
 * Everything that is on record of a case, or of a visit, as a report is made from it. Only what a later fault leaves as it is:
 * an alarm that comes again does not change the report of the case that was closed.
 *
 * @returns null: there is none of this id at the site
 */
export async function faultRecords(db: Asking, site: Site, of: Reported): Promise<FaultRecords | null> {
  const place = { id: site.id, name: site.name ?? null, zone: site.place.timezone ?? "UTC" };
  if ("visit" in of) {
    const visit = await readHanded(db, of.visit);
    if (visit === null || visit.site !== site.id) return null;
    const name = reportOf(site.id, visit.id);
    return { name, site: place, case: null, signs: [], told: [], visits: [visit] };
  }
  const row = await db
    .selectFrom("fault_case")
    .select("case_json")
    .where("id", "=", of.case)
    .executeTakeFirst();
  const one = row === undefined ? null : (JSON.parse(row.case_json) as Case);
  if (one === null || one.site !== site.id) return null;
  const lines = await listHanded(db, { case: one.id }, MOST_VISITS);
  const visits = await Promise.all(lines.map(({ id }) => readHanded(db, id)));
  return {
    name: reportOf(site.id, one.id),
    site: place,
    case: one,
    signs: await signsOf(db, one),
    told: await toldOf(db, one),
    visits: visits.filter((visit) => visit !== null).toSorted((a, b) => a.begunAt - b.begunAt),
  };
}

async function signsOf(db: Asking, { alarms }: Case): Promise<FaultRecords["signs"]> {
  if (alarms.length === 0) return [];
  const rows = await db.selectFrom("alarm").select(["id", "alarm_json"]).where("id", "in", alarms).execute();
  const byId = new Map(rows.map(({ id, alarm_json }) => [id, (JSON.parse(alarm_json) as Alarm).sign]));
  return alarms.flatMap((id) => byId.get(id) ?? []);
}

async function toldOf(db: Asking, { id }: Case): Promise<FaultRecords["told"]> {
  return db
    .selectFrom("delivery")
    .select(["person", "path_id as path", "kind", "channel", "at"])
    .where("matter", "=", id)
    .orderBy("at")
    .orderBy("person")
    .orderBy("sequence")
    .orderBy("channel")
    .execute();
}
