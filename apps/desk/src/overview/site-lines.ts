import { type SelectQueryBuilder, sql } from "kysely";
import type { SiteStanding } from "../judge/site-standing.ts";
import type { Asking, DeskTables } from "../store/index.ts";
import type { Seen } from "./bound-to.ts";
import { type SiteName, siteNamesOf } from "./site-names.ts";

/** A site in a line of the register. */
export interface SiteLine extends SiteName {
  readonly openCases: number;
  readonly activeAlarms: number;
  readonly silentPaths: number;
  readonly standing: SiteStanding | null;
  /** The lowest that an array was last heard to have; null where none is heard. */
  readonly insulation: { readonly ohms: number; readonly at: number } | null;
  readonly drillPassedAt: number | null;
}

interface Sources {
  readonly db: Asking;
  readonly standing: (site: string) => SiteStanding | null;
}

/** The register a portion at a time, in the order of the ids. */
export async function* siteLines({ db, standing }: Sources, seen: Seen): AsyncGenerator<readonly SiteLine[]> {
  for await (const portion of siteNamesOf(db).portions(seen)) {
    if (portion.length === 0) continue;
    const { cases, alarms, silent, heard, drills } = await factsOf(db, portion, seen);
    yield portion.map((site) => ({
      ...site,
      openCases: cases.get(site.id) ?? 0,
      activeAlarms: alarms.get(site.id) ?? 0,
      silentPaths: silent.get(site.id) ?? 0,
      standing: standing(site.id),
      insulation: heard.get(site.id) ?? null,
      drillPassedAt: drills.get(site.id) ?? null,
    }));
  }
}

/** What is on record of a portion: of all sites between its ends where every site is seen, else of each by its id. */
async function factsOf(db: Asking, portion: readonly SiteName[], seen: Seen) {
  const ids = portion.map(({ id }) => id);
  const own =
    seen === null
      ? sql<boolean>`site between ${ids[0]!} and ${ids.at(-1)!}`
      : sql<boolean>`site in (${sql.join(ids)})`;
  const [cases, alarms, silent, heard, drills] = await Promise.all([
    counted(db.selectFrom("fault_case").where("closed_at", "is", null).where(own)),
    counted(db.selectFrom("alarm").where("condition", "=", "active").where(own)),
    counted(db.selectFrom("path_watch").where("silent", "=", 1).where(own)),
    db
      .selectFrom("last_known")
      .select(["site", "value_number as ohms", "at"])
      .where("kind", "=", "insulation")
      .where("quality", "=", "good")
      .where(own)
      .execute(),
    db
      .selectFrom("drill")
      .select((of) => ["site", of.fn.max("ended_at").as("at")])
      .where("outcome", "=", "passed")
      .where(own)
      .groupBy("site")
      .execute(),
  ]);
  return {
    ...{ cases, alarms, silent },
    heard: lowestOf(heard),
    drills: new Map(drills.map(({ site, at }) => [site, at])),
  };
}

/** How many records there are of each site. */
async function counted(
  records: SelectQueryBuilder<DeskTables, "fault_case" | "alarm" | "path_watch", object>,
): Promise<ReadonlyMap<string, number>> {
  const rows = await records
    .select((of) => ["site", of.fn.countAll<number>().as("count")])
    .groupBy("site")
    .execute();
  return new Map(rows.map(({ site, count }) => [site, count]));
}

function lowestOf(
  rows: readonly { readonly site: string; readonly ohms: number | null; readonly at: number }[],
): ReadonlyMap<string, { readonly ohms: number; readonly at: number }> {
  const lowest = new Map<string, { readonly ohms: number; readonly at: number }>();
  for (const { site, ohms, at } of rows)
    if (ohms !== null && ohms < (lowest.get(site)?.ohms ?? Infinity)) lowest.set(site, { ohms, at });
  return lowest;
}
