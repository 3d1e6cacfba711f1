import { type Drill, localTime, nextDrillOn } from "@earthbell/model";
import { sql } from "kysely";
import type { Asking } from "../store/index.ts";
import { ofSites, type Seen, sitePortions } from "./bound-to.ts";
import { Foremost } from "./foremost.ts";

const DAY_MS = 86_400_000;
/** A drill that runs out within this time is told of; a day more, since it runs out by the day of whoever reads. */
const DUE_WITHIN_MS = 31 * DAY_MS;
/** No proof holds for less: whatever was passed since is not looked at. */
const SHORTEST_HOLD_MS = 300 * DAY_MS;
/** Sites whose drills are read before other work of the desk gets its turn. */
const AT_ONCE = 500;

/** A path whose newest drill asks for something. */
interface Waiting {
  readonly site: string;
  readonly path: string;
  readonly startedAt: number;
  /** Lower comes first. */
  readonly rank: number;
}

export interface WaitingDrills {
  /** Running ones, those that were missed, and those that run out, in this order. */
  readonly first: readonly Drill[];
  readonly more: number;
  readonly lastPassed: { readonly site: string; readonly path: string; readonly startedAt: number } | null;
}

/**
 * Drills that need a person.
 *
 * @param told  paths of which an alarm tells already that a drill was missed, as `site path`
 */
export async function waitingDrills(
  db: Asking,
  seen: Seen,
  { now, most, told }: { readonly now: number; readonly most: number; readonly told: ReadonlySet<string> },
): Promise<WaitingDrills> {
  const foremost = new Foremost<Waiting>(
    most,
    (one, other) => one.rank - other.rank || one.startedAt - other.startedAt,
  );
  const running = new Set<string>();
  for (const one of await runningDrills(db, seen)) {
    running.add(`${one.site} ${one.path}`);
    foremost.add({ ...one, rank: 0 });
  }
  for await (const portion of endedDrills(db, seen, now))
    for (const one of portion) {
      const key = `${one.site} ${one.path}`;
      if (running.has(key)) continue;
      const missed = one.passedAt === null || one.passedAt < one.startedAt;
      if (missed && !told.has(key)) foremost.add({ ...one, rank: 1 });
      else if (!missed && isDue(one.startedAt, now)) foremost.add({ ...one, rank: 2 });
    }
  return {
    first: await drillsOf(db, foremost.first),
    more: foremost.more,
    lastPassed: await lastPassed(db, seen),
  };
}

function isDue(startedAt: number, now: number): boolean {
  return Date.parse(nextDrillOn(localTime(startedAt, "UTC").date)) - now <= DUE_WITHIN_MS;
}

function runningDrills(db: Asking, seen: Seen) {
  return db
    .selectFrom("drill")
    .select(["site", "path_id as path", "started_at as startedAt"])
    .where("ended_at", "is", null)
    .where(ofSites(seen))
    .execute();
}

/** Of each path that was not passed lately the newest drill that ended, and the newest that was passed. */
async function* endedDrills(db: Asking, seen: Seen, now: number) {
  const newest = sql<number>`max(started_at)`;
  const passed = sql<number | null>`max(case when outcome = 'passed' then started_at end)`;
  for await (const { own } of sitePortions(db, seen, AT_ONCE))
    yield await db
      .selectFrom("drill")
      .select(["site", "path_id as path", newest.as("startedAt"), passed.as("passedAt")])
      .where("ended_at", "is not", null)
      .where(own)
      .groupBy(["site", "path_id"])
      .having(
        sql<boolean>`${newest} < ${now - SHORTEST_HOLD_MS} or ${passed} is null or ${passed} < ${newest}`,
      )
      .execute();
}

async function drillsOf(db: Asking, waiting: readonly Waiting[]): Promise<readonly Drill[]> {
  const drills: Drill[] = [];
  for (const { site, path, startedAt } of waiting) {
    const row = await db
      .selectFrom("drill")
      .select("drill_json")
      .where("site", "=", site)
      .where("path_id", "=", path)
      .where("started_at", "=", startedAt)
      .executeTakeFirst();
    if (row !== undefined) drills.push(JSON.parse(row.drill_json) as Drill);
  }
  return drills;
}

async function lastPassed(db: Asking, seen: Seen): Promise<WaitingDrills["lastPassed"]> {
  const row = await db
    .selectFrom("drill")
    .select(["site", "path_id as path", "started_at as startedAt"])
    .where("outcome", "=", "passed")
    .where(ofSites(seen))
    .orderBy("ended_at", "desc")
    .limit(1)
    .executeTakeFirst();
  return row ?? null;
}
