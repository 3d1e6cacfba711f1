import { isFlood } from "@earthbell/model";
import type { Draft } from "./draft.ts";
import type { Pending } from "./pending.ts";
import { wayName } from "./recipients.ts";

/** In a flood, what has just come waits this long for what comes with it … */
const GATHER_MS = 15_000;
/** … at an address that has had this many messages in that time [design choice]. */
const ONE_BY_ONE = 3;
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

/**
 * In a flood, addresses that have just had several messages wait for what comes with the next ones, to be told in groups. An
 * address that has had few is told at once: a flood elsewhere holds nothing back from the owner of one site.
 *
 * @returns those to write now, and the instant at which to look again for the others; null where none waits
 */
export async function gather(
  { tx, now }: Draft,
  pending: readonly Pending[],
): Promise<{ readonly written: readonly Pending[]; readonly lookAt: number | null }> {
  const rows = await tx
    .selectFrom("outbox")
    .select(({ fn }) => ["channel", "address", fn.countAll<number>().as("count")])
    .where("written_at", ">", now - GATHER_MS)
    .groupBy(["channel", "address"])
    .execute();
  const burdened = new Set(rows.filter(({ count }) => count >= ONE_BY_ONE).map(wayName));
  const written = pending.filter(({ way, matter }) => matter.kind === "drill" || !burdened.has(wayName(way)));
  return { written, lookAt: written.length === pending.length ? null : now + GATHER_MS };
}
