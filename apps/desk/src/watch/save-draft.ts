import type { Alarm } from "@earthbell/model";
import {
  appendJournal,
  type AlarmTable,
  type CaseTable,
  type DetectorTable,
  type DrillTable,
  type InsulationDayTable,
  type LastKnownTable,
  type NextLookTable,
  type PathWatchTable,
} from "../store/index.ts";
import type { Bulk } from "../store/bulk.ts";
import type { Draft } from "./draft.ts";
import type { SiteDraft } from "./site-room.ts";
import { coreOf, hasSameCore } from "./stored-detector.ts";

/** Stores everything that a draft changed. */
export async function saveDraft(draft: Draft, bulk: Bulk): Promise<void> {
  const { tx } = draft;
  const sites = [...draft.sites.values()];
  await bulk.put(tx, "detector", sites.flatMap(detectorRows));
  await bulk.put(tx, "insulation_day", sites.flatMap(dayRows));
  await bulk.put(tx, "alarm", sites.flatMap(alarmRows));
  // A closed case makes room for the open one that follows it: at most one of an array is open.
  const cases = sites
    .flatMap(caseRows)
    .toSorted((one, other) => Number(one.closed_at === null) - Number(other.closed_at === null));
  await bulk.put(tx, "fault_case", cases);
  await bulk.put(tx, "last_known", sites.flatMap(knownRows));
  await bulk.put(tx, "path_watch", sites.flatMap(watchRows));
  await bulk.put(tx, "drill", sites.flatMap(drillRows));
  for (const [id, key] of draft.drillReadings)
    await tx.updateTable("drill").set({ reading_key: key }).where("id", "=", id).execute();
  await bulk.put(tx, "next_look", sites.flatMap(lookRows));
  for (const site of sites) if (site.plans.hasChanges()) await savePlans(draft, site);
  await appendJournal(tx, draft.happenings);
}

function detectorRows({ id, detectors, stored }: SiteDraft): DetectorTable[] {
  return detectors.changes().flatMap((state) => {
    const { array } = state;
    const before = stored.get(array);
    if (before !== undefined && hasSameCore(before, state)) return [];
    stored.set(array, state);
    return [{ site: id, array_id: array, state_json: coreOf(state) }];
  });
}

function dayRows({ days }: SiteDraft): readonly InsulationDayTable[] {
  return days.changes();
}

function alarmRows({ id, alarms }: SiteDraft): AlarmTable[] {
  return alarms.changes().map((alarm) => ({
    id: alarm.id,
    site: id,
    ...subjectColumns(alarm),
    sign: alarm.sign,
    condition: alarm.condition,
    occurrence: alarm.occurrence,
    active_at: alarm.activeAt,
    alarm_json: JSON.stringify(alarm),
  }));
}

function subjectColumns({ subject }: Alarm): Pick<AlarmTable, "array_id" | "path_id" | "person"> {
  return subject.kind === "array"
    ? { array_id: subject.array, path_id: null, person: null }
    : { array_id: null, path_id: subject.path, person: subject.person };
}

function caseRows({ id, cases }: SiteDraft): CaseTable[] {
  return cases.changes().map((one) => ({
    id: one.id,
    site: id,
    array_id: one.array,
    opened_at: one.openedAt,
    closed_at: one.closed?.at ?? null,
    case_json: JSON.stringify(one),
  }));
}

function knownRows({ known }: SiteDraft): readonly LastKnownTable[] {
  return known.changes();
}

function watchRows({ id, watches }: SiteDraft): PathWatchTable[] {
  return watches.changes().map((watch) => ({
    site: id,
    path_id: watch.path,
    deadline_at: watch.deadlineAt,
    silent: watch.silent ? 1 : 0,
    watch_json: JSON.stringify(watch),
  }));
}

function drillRows({ id, drills }: SiteDraft): Omit<DrillTable, "reading_key">[] {
  return drills.changes().map((drill) => ({
    id: drill.id,
    site: id,
    path_id: drill.path,
    started_at: drill.startedAt,
    answer_by_at: drill.answerByAt,
    ended_at: drill.ended?.at ?? null,
    outcome: drill.ended?.outcome ?? null,
    drill_json: JSON.stringify(drill),
  }));
}

function lookRows({ id, lookAt }: SiteDraft): NextLookTable[] {
  return lookAt === null ? [] : [{ site: id, at: lookAt }];
}

async function savePlans({ tx }: Draft, { id, plans }: SiteDraft): Promise<void> {
  for (const { path, at } of plans.changes()) {
    await tx.deleteFrom("drill_plan").where("site", "=", id).where("path_id", "=", path).execute();
    if (at !== null) await tx.insertInto("drill_plan").values({ site: id, path_id: path, at }).execute();
  }
}
