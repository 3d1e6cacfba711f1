import type { DeskStore, Writing } from "../store/index.ts";
import type { ChannelKind, Envelope } from "../tell/channel.ts";

/** A message that this worker, and no other, sends now. */
export interface Claimed {
  readonly envelope: Envelope;
  /** Attempts before this one. */
  readonly attempts: number;
  readonly writtenAt: number;
}

interface ClaimOptions {
  readonly channel: ChannelKind;
  readonly by: string;
  readonly now: number;
  readonly leaseMs: number;
  readonly limit: number;
}

/** The longest pause between two attempts; anything due later than that was dated by a clock that has gone back since. */
export const LONGEST_PAUSE_MS = 15 * 60_000;

/** Claims messages that are due, and those whose claim has run out because its worker is gone. */
export function claimDue(store: DeskStore, options: ClaimOptions): Promise<readonly Claimed[]> {
  return store.db.transaction().execute(async (tx) => {
    const claimed: Claimed[] = [];
    for (const key of await dueKeys(store, tx, options)) {
      const row = await tx
        .updateTable("outbox")
        .set({ state: "claimed", claimed_by: options.by, lease_until: options.now + options.leaseMs })
        .where("key", "=", key)
        .where("state", "in", ["waiting", "claimed"])
        .returning(["envelope_json", "attempts", "written_at"])
        .executeTakeFirst();
      if (row === undefined) continue;
      const envelope = JSON.parse(row.envelope_json) as Envelope;
      claimed.push({ envelope, attempts: row.attempts, writtenAt: row.written_at });
    }
    return claimed;
  });
}

async function dueKeys(
  store: DeskStore,
  tx: Writing,
  { channel, now, leaseMs, limit }: ClaimOptions,
): Promise<readonly string[]> {
  const due = tx
    .selectFrom("outbox")
    .select("key")
    .where("channel", "=", channel)
    .where((eb) =>
      eb.or([
        eb.and([
          eb("state", "=", "waiting"),
          eb.or([eb("due_at", "<=", now), eb("due_at", ">", now + LONGEST_PAUSE_MS)]),
        ]),
        eb.and([
          eb("state", "=", "claimed"),
          eb.or([eb("lease_until", "<=", now), eb("lease_until", ">", now + leaseMs)]),
        ]),
      ]),
    )
    .orderBy("due_at")
    .orderBy("key")
    .limit(limit);
  const rows = await (store.kind === "postgres" ? due.forUpdate().skipLocked() : due).execute();
  return rows.map(({ key }) => key);
}
