import { beaconGrounds, type BeaconPart, mattersOf, raisedAt, type RaisedMatter } from "@earthbell/model";
import { sql } from "kysely";
import type { Envelope } from "../tell/channel.ts";
import type { Draft } from "./draft.ts";
import type { SiteDraft } from "./site-room.ts";
import type { Beacon } from "./watch.ts";
import { putInOutbox } from "./write-messages.ts";

/** Brings beacons in line with what is raised at these sites now, and writes a message for each that shows something else. */
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
      const raised = raisedAt(part, mattersOfSite(site), site.filed.site.paths, draft.now);
      const json = JSON.stringify(raised);
      if (json === (known ?? "[]")) continue;
      await keep(draft, beacon.id, site.id, raised);
      changedAt = site.id;
    }
    if (changedAt !== null) await publish(draft, beacon, changedAt);
  }
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
  const [lit, shown] = await Promise.all([
    draft.tx.selectFrom("alarm").select("site").distinct().where("condition", "=", "active").execute(),
    draft.tx.selectFrom("beacon_site").select("site").distinct().execute(),
  ]);
  await draft.enter([...lit, ...shown].map(({ site }) => site));
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

async function keep(
  { tx }: Draft,
  beacon: string,
  site: string,
  raised: readonly RaisedMatter[],
): Promise<void> {
  if (raised.length === 0) {
    await tx.deleteFrom("beacon_site").where("beacon", "=", beacon).where("site", "=", site).execute();
    return;
  }
  const raised_json = JSON.stringify(raised);
  await tx
    .insertInto("beacon_site")
    .values({ beacon, site, raised_json })
    .onConflict((conflict) => conflict.columns(["beacon", "site"]).doUpdateSet({ raised_json }))
    .execute();
}

/** One message holds everything that the beacon shows; those before it that are not handed over yet are outdated by it. */
async function publish(draft: Draft, { id, topic }: Beacon, site: string): Promise<void> {
  const rows = await draft.tx
    .selectFrom("beacon_site")
    .select("raised_json")
    .where("beacon", "=", id)
    .orderBy("site")
    .execute();
  const raised = rows.flatMap(({ raised_json }) => JSON.parse(raised_json) as RaisedMatter[]);
  await draft.tx
    .deleteFrom("outbox")
    .where("channel", "=", "mqtt")
    .where("person", "=", id)
    .where("state", "in", ["waiting", "claimed"])
    .execute();
  const sequence = await nextNumber(draft);
  const { text } = beaconGrounds(raised);
  const envelope: Envelope = {
    key: JSON.stringify(["beacon", id, sequence]),
    channel: "mqtt",
    address: topic,
    ...{ person: id, site, sequence, text },
    matter: raised[0]?.matter ?? id,
    kind: raised.length > 0 ? "first" : "cleared",
    subject: `Beacon ${id}: ${raised.length > 0 ? "lit" : "out"}`,
    raised,
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
