import { isFlood } from "@earthbell/model";
import type { Draft } from "./draft.ts";
import type { SiteDraft } from "./site-room.ts";

/** In a flood, what has just come waits this long for what comes with it, to be told in groups. */
const GATHER_MS = 15_000;
const MINUTE = 60_000;

/** Whether more alarms have just come than a person can follow one by one. */
export async function isFloodNow({ tx, now, limits, sites }: Draft): Promise<boolean> {
  const since = now - limits.floodWindowMin.value * MINUTE;
  const rows = await tx
    .selectFrom("alarm")
    .select(["id", "active_at"])
    .where("active_at", ">=", since)
    .limit(limits.floodAlarms.value + 1)
    .execute();
  const started = new Map(rows.map(({ id, active_at }) => [id, active_at!]));
  for (const site of sites.values())
    for (const { id, activeAt } of site.alarms.values())
      if (activeAt !== null && activeAt >= since) started.set(id, activeAt);
  return isFlood([...started.values()], now, limits);
}

/** Leaves the telling to the look that is stored here, and that comes soon. */
export async function tellSoon({ tx, now }: Draft, sites: readonly SiteDraft[]): Promise<void> {
  const at = now + GATHER_MS;
  for (const { id } of sites)
    await tx.updateTable("next_look").set({ at }).where("site", "=", id).where("at", ">", at).execute();
}
