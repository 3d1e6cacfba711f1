import {
  type Delivery,
  type Matter,
  matterOfDrill,
  mattersOf,
  type TellPath,
  type TellPerson,
  tellRound,
  type TellRound,
  type Told,
} from "@earthbell/model";
import { sql } from "kysely";
import type { Writing } from "../store/index.ts";
import type { ChannelKind, Envelope } from "../tell/channel.ts";
import type { Draft } from "./draft.ts";
import { type BrokenWays, pathsOfMatter, tellPeople, wayName } from "./recipients.ts";
import type { SiteDraft } from "./site-room.ts";

/** What one look at one matter of a site and one path comes to. */
export interface SiteRound {
  readonly site: SiteDraft;
  readonly matter: Matter;
  readonly path: TellPath;
  readonly round: TellRound;
}

/** Whether, by these paths, anybody has to be told of anything at these sites. */
export async function roundsOf(
  draft: Draft,
  sites: readonly SiteDraft[],
  channels: readonly ChannelKind[],
  broken: BrokenWays,
): Promise<readonly SiteRound[]> {
  const matters = sites.map((site) => ({
    site,
    matters: mattersOfSite(site),
    people: tellPeople(site, channels, broken),
  }));
  const ids = matters.flatMap((one) => one.matters.map(({ id }) => id));
  const deliveries = await lastDeliveries(draft.tx, ids);
  return matters.flatMap((one) =>
    one.matters.flatMap((matter) => roundsOfMatter(draft, one, matter, deliveries.get(matter.id) ?? [])),
  );
}

function roundsOfMatter(
  { now, limits }: Draft,
  { site, people }: { readonly site: SiteDraft; readonly people: readonly TellPerson[] },
  matter: Matter,
  deliveries: readonly Delivery[],
): readonly SiteRound[] {
  return pathsOfMatter(site, matter).map((path) => ({
    site,
    matter,
    path,
    round: tellRound(matter, path, people, deliveries, now, limits),
  }));
}

function mattersOfSite(site: SiteDraft): readonly Matter[] {
  const alarms = site.alarms.values().filter(({ occurrence }) => occurrence > 0);
  const drills = site.drills.values().filter(({ ended }) => ended === null);
  return [...mattersOf(site.cases.values(), alarms), ...drills.map(matterOfDrill)];
}

const MATTERS_AT_ONCE = 400;

/** The newest delivery of each matter to each person by each path. */
async function lastDeliveries(
  tx: Writing,
  matters: readonly string[],
): Promise<ReadonlyMap<string, readonly Delivery[]>> {
  const found = new Map<string, Delivery[]>();
  for (let from = 0; from < matters.length; from += MATTERS_AT_ONCE) {
    const some = matters.slice(from, from + MATTERS_AT_ONCE);
    const last = tx
      .selectFrom("delivery")
      .select(["matter", "path_id", "person", sql<number>`max(sequence)`.as("sequence")])
      .where("matter", "in", some)
      .groupBy(["matter", "path_id", "person"])
      .as("last");
    const rows = await tx
      .selectFrom("delivery")
      .innerJoin(last, (join) =>
        join
          .onRef("delivery.matter", "=", "last.matter")
          .onRef("delivery.path_id", "=", "last.path_id")
          .onRef("delivery.person", "=", "last.person")
          .onRef("delivery.sequence", "=", "last.sequence"),
      )
      .selectAll("delivery")
      .execute();
    for (const row of rows) {
      const { matter, path_id, person, sequence, at } = row;
      const told = JSON.parse(row.told_json) as Told[];
      const kind = row.kind as Envelope["kind"];
      const own = found.get(matter) ?? [];
      own.push({ matter, path: path_id, person, kind, sequence, at, told });
      found.set(matter, own);
    }
  }
  return found;
}

export async function brokenWays(tx: Writing): Promise<BrokenWays> {
  const rows = await tx.selectFrom("broken_way").selectAll().execute();
  return new Map(rows.map((row) => [wayName(row), row]));
}
