import {
  beaconGrounds,
  type BeaconOfPath,
  type BeaconPart,
  type BeaconShows,
  beaconState,
  type DrillLight,
  drillLightsAt,
  endsIn,
  mattersOf,
  raisedAt,
  type RaisedMatter,
} from "@earthbell/model";
import { sql } from "kysely";
import type { Asking } from "../store/index.ts";
import type { Envelope } from "../tell/channel.ts";
import type { Draft } from "./draft.ts";
import type { SiteDraft } from "./site-room.ts";
import type { Beacon } from "./watch.ts";
import { putInOutbox } from "./write-messages.ts";

/**
 * Brings beacons in line with what is raised and what is rehearsed at these sites now, and writes a message for each of which
 * anything has changed; so at the end of a drill it is told its true state again.
 */
export async function lightBeacons(
  draft: Draft,
  sites: readonly SiteDraft[],
  beacons: readonly Beacon[],
): Promise<void> {
  if (beacons.length === 0 || sites.length === 0) return;
  const before = await shownAt(
    draft,
    sites.map(({ id }) => id),
  );
  for (const beacon of beacons) {
    let changedAt: string | null = null;
    for (const site of sites) {
      const part = partOf(beacon, site.id);
      const known = before.get(rowKey(beacon.id, site.id));
      if (part === null && known === undefined) continue;
      const json = JSON.stringify(entriesAt(beacon, site, part, draft.now));
      if (json === (known ?? NOTHING)) continue;
      await keep(draft, beacon.id, site.id, json);
      changedAt = site.id;
    }
    if (changedAt !== null) await publish(draft, beacon, changedAt);
  }
}

/** What a beacon shows of a site, as it is stored: faults, and drills behind them. */
function entriesAt(
  beacon: Beacon,
  site: SiteDraft,
  part: BeaconPart | null,
  now: number,
): readonly (RaisedMatter | DrillLight)[] {
  const lights = part === null ? [] : drillLightsAt(beacon.id, site.drills.values(), now);
  return [...raisedAt(part, mattersOfSite(site), site.filed.site.paths, now), ...lights];
}

const NOTHING = "[]";

/** Everything that a beacon shows, of all sites. */
export async function shownBy(db: Asking, beacon: string): Promise<BeaconShows> {
  const rows = await db
    .selectFrom("beacon_site")
    .select("raised_json")
    .where("beacon", "=", beacon)
    .orderBy("site")
    .execute();
  const entries = rows.flatMap(
    ({ raised_json }) => JSON.parse(raised_json) as readonly (RaisedMatter | DrillLight)[],
  );
  return {
    raised: entries.filter((one): one is RaisedMatter => !("drill" in one)),
    drills: entries.filter((one): one is DrillLight => "drill" in one),
  };
}

/**
 * The beacons in which a path ends: those lit by a drill of it. No path ends in one that shows every site: an overview that
 * burns for each drill anywhere would be looked at by nobody.
 */
export function beaconsOfPath(
  beacons: readonly Beacon[],
  site: string,
  path: string,
): readonly BeaconOfPath[] {
  return beacons
    .filter(({ shows = [] }) => endsIn(shows.find((part) => part.site === site) ?? null, path))
    .map(({ id, payloads }) => ({
      id,
      saysDrill: payloads === undefined || (payloads.drill !== undefined && payloads.drill !== payloads.on),
    }));
}

/**
 * Says of every beacon what it shows, whether that has changed or not: settings may name other sites than before, and a
 * broker may have lost what it kept.
 */
export async function relightBeacons(draft: Draft, beacons: readonly Beacon[]): Promise<void> {
  const ids = beacons.map(({ id }) => id);
  const gone = draft.tx.deleteFrom("beacon_site");
  await (ids.length === 0 ? gone : gone.where("beacon", "not in", ids)).execute();
  if (ids.length === 0) return;
  const [lit, rehearsed, shown] = await Promise.all([
    draft.tx.selectFrom("alarm").select("site").distinct().where("condition", "=", "active").execute(),
    draft.tx.selectFrom("drill").select("site").distinct().where("ended_at", "is", null).execute(),
    draft.tx.selectFrom("beacon_site").select("site").distinct().execute(),
  ]);
  await draft.enter([...lit, ...rehearsed, ...shown].map(({ site }) => site));
  await lightBeacons(draft, [...draft.sites.values()], beacons);
  for (const beacon of beacons) await publish(draft, beacon, beacon.shows?.[0]?.site ?? "desk");
}

/** A site that is no longer watched keeps no beacon lit. */
export async function forgetAtBeacons(draft: Draft, site: string, beacons: readonly Beacon[]): Promise<void> {
  const gone = await draft.tx
    .deleteFrom("beacon_site")
    .where("site", "=", site)
    .returning("beacon")
    .execute();
  for (const beacon of beacons)
    if (gone.some((row) => row.beacon === beacon.id)) await publish(draft, beacon, site);
}

function partOf({ shows }: Beacon, site: string): BeaconPart | null {
  if (shows === undefined) return { site };
  return shows.find((part) => part.site === site) ?? null;
}

function mattersOfSite({ cases, alarms }: SiteDraft) {
  return mattersOf(
    cases.values(),
    alarms.values().filter(({ occurrence }) => occurrence > 0),
  );
}

const rowKey = (beacon: string, site: string): string => JSON.stringify([beacon, site]);

async function shownAt({ tx }: Draft, sites: readonly string[]): Promise<ReadonlyMap<string, string>> {
  const rows = await tx.selectFrom("beacon_site").selectAll().where("site", "in", sites).execute();
  return new Map(rows.map(({ beacon, site, raised_json }) => [rowKey(beacon, site), raised_json]));
}

async function keep({ tx }: Draft, beacon: string, site: string, raised_json: string): Promise<void> {
  if (raised_json === NOTHING) {
    await tx.deleteFrom("beacon_site").where("beacon", "=", beacon).where("site", "=", site).execute();
    return;
  }
  await tx
    .insertInto("beacon_site")
    .values({ beacon, site, raised_json })
    .onConflict((conflict) => conflict.columns(["beacon", "site"]).doUpdateSet({ raised_json }))
    .execute();
}

const SAID = {
  raised: { kind: "first", word: "lit" },
  drill: { kind: "drill", word: "lit for a drill, no fault" },
  clear: { kind: "cleared", word: "out" },
} as const;

/** One message holds everything that the beacon shows; those before it that are not handed over yet are outdated by it. */
async function publish(draft: Draft, { id, topic }: Beacon, site: string): Promise<void> {
  const shows = await shownBy(draft.tx, id);
  const { raised, drills } = shows;
  await draft.tx
    .deleteFrom("outbox")
    .where("channel", "=", "mqtt")
    .where("person", "=", id)
    .where("state", "in", ["waiting", "claimed"])
    .execute();
  const sequence = await nextNumber(draft);
  const { text } = beaconGrounds(shows);
  const said = SAID[beaconState(shows)];
  const envelope: Envelope = {
    key: JSON.stringify(["beacon", id, sequence]),
    channel: "mqtt",
    address: topic,
    ...{ person: id, site, sequence, text },
    matter: raised[0]?.matter ?? drills[0]?.drill ?? id,
    kind: said.kind,
    subject: `Beacon ${id}: ${said.word}`,
    raised,
    drills,
    writtenAt: draft.now,
  };
  await putInOutbox(draft, envelope, text);
}

async function nextNumber({ tx }: Draft): Promise<number> {
  const { value } = await tx
    .insertInto("mark")
    .values({ name: "beacons", value: 1 })
    .onConflict((conflict) => conflict.column("name").doUpdateSet({ value: sql`mark.value + 1` }))
    .returning("value")
    .executeTakeFirstOrThrow();
  return value;
}
