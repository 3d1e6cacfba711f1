import type { Alarm, ArrayLimits, Case, DetectorState, Drill, PathWatch, Rung } from "@earthbell/model";
import type { Site } from "@earthbell/engine";
import type { Writing } from "../store/index.ts";
import { dayKey, emptyRoom, knownKey, type SiteRoom } from "./site-room.ts";
import { restoreDetector } from "./stored-detector.ts";

const SITES_AT_ONCE = 400;
/** Closed cases stay at hand for longer than a recurrence looks back. */
const CLOSED_LATELY_MS = 35 * 86_400_000;

/** Reads sites with everything that the watch works on; a site that is not known, or was removed, is left out. */
export async function loadRooms(
  tx: Writing,
  ids: readonly string[],
  now: number,
): Promise<ReadonlyMap<string, SiteRoom>> {
  const rooms = new Map<string, SiteRoom>();
  for (let from = 0; from < ids.length; from += SITES_AT_ONCE)
    await loadSome(tx, ids.slice(from, from + SITES_AT_ONCE), now, rooms);
  return rooms;
}

/** A detector remembers 35 days up to its newest one, which may lie back as far as a listener was out of reach. */
const DAYS_AT_HAND_MS = 120 * 86_400_000;

async function loadSome(
  tx: Writing,
  ids: readonly string[],
  now: number,
  rooms: Map<string, SiteRoom>,
): Promise<void> {
  const sites = await tx
    .selectFrom("site")
    .select(["id", "revision", "known_since", "put_at", "site_json", "limits_json"])
    .where("id", "in", ids)
    .where("removed_at", "is", null)
    .execute();
  for (const { id, revision, known_since, put_at, site_json, limits_json } of sites) {
    const site = JSON.parse(site_json) as Site;
    const limits = JSON.parse(limits_json) as Record<string, ArrayLimits>;
    rooms.set(id, emptyRoom(id, { site, revision, knownSince: known_since, putAt: put_at, limits }));
  }
  const found = sites.map(({ id }) => id);
  if (found.length === 0) return;
  await loadDetectors(tx, found, rooms, now);
  await loadArrays(tx, found, rooms, now);
  await loadPaths(tx, found, rooms);
}

async function loadArrays(
  tx: Writing,
  ids: readonly string[],
  rooms: ReadonlyMap<string, SiteRoom>,
  now: number,
): Promise<void> {
  const alarms = await tx
    .selectFrom("alarm")
    .select(["site", "alarm_json"])
    .where("site", "in", ids)
    .orderBy("id")
    .execute();
  for (const { site, alarm_json } of alarms) {
    const alarm = JSON.parse(alarm_json) as Alarm;
    rooms.get(site)!.alarms.set(alarm.id, alarm);
  }
  const cases = await tx
    .selectFrom("fault_case")
    .select(["site", "case_json"])
    .where("site", "in", ids)
    .where((eb) =>
      eb.or([
        eb("closed_at", "is", null),
        eb("closed_at", ">", now - CLOSED_LATELY_MS),
        eb(
          "closed_at",
          "=",
          eb
            .selectFrom("fault_case as closed")
            .select(({ fn }) => fn.max("closed.closed_at").as("at"))
            .whereRef("closed.site", "=", "fault_case.site")
            .whereRef("closed.array_id", "=", "fault_case.array_id"),
        ),
      ]),
    )
    .orderBy("opened_at")
    .execute();
  for (const { site, case_json } of cases) {
    const one = JSON.parse(case_json) as Case;
    rooms.get(site)!.cases.set(one.id, one);
  }
}

/** The detectors' state comes together from three tables (`restoreDetector`). */
async function loadDetectors(
  tx: Writing,
  ids: readonly string[],
  rooms: ReadonlyMap<string, SiteRoom>,
  now: number,
): Promise<void> {
  const known = await tx.selectFrom("last_known").selectAll().where("site", "in", ids).execute();
  for (const row of known) rooms.get(row.site)!.known.set(knownKey(row, row.array_id), row);
  const since = new Date(now - DAYS_AT_HAND_MS).toISOString().slice(0, 10);
  const days = await tx
    .selectFrom("insulation_day")
    .selectAll()
    .where("site", "in", ids)
    .where("date", ">=", since)
    .execute();
  for (const row of days) rooms.get(row.site)!.days.set(dayKey(row), row);
  const detectors = await tx.selectFrom("detector").selectAll().where("site", "in", ids).execute();
  for (const { site, array_id, state_json } of detectors) {
    const room = rooms.get(site)!;
    const stored = JSON.parse(state_json) as DetectorState;
    const state = restoreDetector(stored, [...room.known.values()], [...room.days.values()]);
    room.stored.set(array_id, state);
    room.detectors.set(array_id, state);
  }
}

async function loadPaths(
  tx: Writing,
  ids: readonly string[],
  rooms: ReadonlyMap<string, SiteRoom>,
): Promise<void> {
  const watches = await tx.selectFrom("path_watch").selectAll().where("site", "in", ids).execute();
  for (const { site, path_id, watch_json } of watches)
    rooms.get(site)!.watches.set(path_id, JSON.parse(watch_json) as PathWatch);
  const drills = await tx
    .selectFrom("drill")
    .select(["site", "drill_json"])
    .where("site", "in", ids)
    .where("ended_at", "is", null)
    .orderBy("started_at")
    .execute();
  for (const { site, drill_json } of drills) {
    const drill = JSON.parse(drill_json) as Drill;
    rooms.get(site)!.drills.set(drill.id, drill);
  }
  const ladders = await tx.selectFrom("ladder").selectAll().where("site", "in", ids).execute();
  for (const { site, path_id, rungs_json } of ladders)
    rooms.get(site)!.ladders.set(path_id, { path: path_id, rungs: JSON.parse(rungs_json) as Rung[] });
  const plans = await tx.selectFrom("drill_plan").selectAll().where("site", "in", ids).execute();
  for (const { site, path_id, at } of plans) rooms.get(site)!.plans.set(path_id, { path: path_id, at });
}
