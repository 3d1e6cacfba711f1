import { createHash } from "node:crypto";
import type { Site } from "@earthbell/engine";
import { nextDrillOn, plannedDrillAt } from "@earthbell/model";
import type { DeskStore } from "../store/index.ts";
import type { Watch } from "../watch/index.ts";

const DAY_MS = 86_400_000;
/** First drills are spread over so many days, so that nobody is called to all sites at once. */
const SPREAD_DAYS = 14;
/** At ten in the morning of the site. */
const AT_MINUTE = 600;

/**
 * Plans the first drill of every message path that has none planned: when the drill on record runs out, or within two weeks
 * where none was ever held. From then on each drill plans the next.
 */
export async function planFirstDrills(store: DeskStore, watch: Watch, now: number): Promise<void> {
  const planned = await store.db.selectFrom("drill_plan").select(["site", "path_id"]).execute();
  const known = new Set(planned.map(({ site, path_id }) => JSON.stringify([site, path_id])));
  const rows = await store.db
    .selectFrom("site")
    .select("site_json")
    .where("removed_at", "is", null)
    .execute();
  for (const { site_json } of rows) {
    const site = JSON.parse(site_json) as Site;
    for (const { id, signal } of site.paths) {
      if (signal !== "message" || known.has(JSON.stringify([site.id, id]))) continue;
      await watch.planDrill(site.id, id, firstDrillAt(site, id, now), "desk.yaml");
    }
  }
}

function firstDrillAt({ id, place, proofs }: Site, path: string, now: number): number {
  const zone = place.timezone ?? "UTC";
  const held = proofs.filter((proof) => proof.path === path && proof.kind === "drill").map(({ on }) => on);
  const last = held.sort().at(-1);
  const due = last === undefined ? 0 : plannedDrillAt(nextDrillOn(last), AT_MINUTE, zone);
  const digest = createHash("sha256")
    .update(JSON.stringify([id, path]))
    .digest();
  const days = 1 + (digest.readUInt16BE(0) % SPREAD_DAYS);
  const soon = new Date(now + days * DAY_MS).toISOString().slice(0, 10);
  return Math.max(due, plannedDrillAt(soon, AT_MINUTE, zone));
}
