import { isUnproved, isUnserved } from "@earthbell/model";
import type { SiteStanding } from "../judge/site-standing.ts";
import type { Asking } from "../store/index.ts";
import { ofSites, type Seen, sitePortions } from "./bound-to.ts";

/** Sites of which the same is to be said: the first of them, and how many there are. */
export interface SiteGroup {
  readonly first: readonly string[];
  readonly count: number;
}

export interface StandingSites {
  readonly watched: number;
  /** Without a sign or a silent path. */
  readonly quiet: number;
  /** Not judged yet. */
  readonly unjudged: number;
  readonly unserved: SiteGroup;
  readonly unproved: SiteGroup;
}

/** So many sites of a group are named. */
const NAMED = 3;
/** Sites that are read before other work of the desk gets its turn. */
const AT_ONCE = 2000;

/**
 * What the files say of many sites at once, counted.
 *
 * @param signed  sites with an active alarm
 */
export async function standingSites(
  db: Asking,
  seen: Seen,
  standing: (site: string) => SiteStanding | null,
  signed: ReadonlySet<string>,
): Promise<StandingSites> {
  const silent = await silentSites(db, seen);
  const unserved: string[] = [];
  const unproved: string[] = [];
  let [watched, quiet, unjudged] = [0, 0, 0];
  for await (const portion of sitesWithDrill(db, seen))
    for (const { id, drillPassedAt } of portion) {
      const line = { standing: standing(id), drillPassedAt };
      watched += 1;
      if (!signed.has(id) && !silent.has(id)) quiet += 1;
      if (line.standing === null) unjudged += 1;
      if (isUnserved(line)) unserved.push(id);
      if (isUnproved(line)) unproved.push(id);
    }
  return { watched, quiet, unjudged, unserved: groupOf(unserved), unproved: groupOf(unproved) };
}

function groupOf(sites: readonly string[]): SiteGroup {
  return { first: sites.slice(0, NAMED), count: sites.length };
}

async function silentSites(db: Asking, seen: Seen): Promise<ReadonlySet<string>> {
  const rows = await db
    .selectFrom("path_watch")
    .select("site")
    .distinct()
    .where("silent", "=", 1)
    .where(ofSites(seen))
    .execute();
  return new Set(rows.map(({ site }) => site));
}

async function* sitesWithDrill(db: Asking, seen: Seen) {
  for await (const { ids, own } of sitePortions(db, seen, AT_ONCE)) {
    const drills = await db
      .selectFrom("drill")
      .select((of) => ["site", of.fn.max("ended_at").as("at")])
      .where("outcome", "=", "passed")
      .where(own)
      .groupBy("site")
      .execute();
    const passed = new Map(drills.map(({ site, at }) => [site, at]));
    yield ids.map((id) => ({ id, drillPassedAt: passed.get(id) ?? null }));
  }
}
