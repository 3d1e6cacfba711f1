import { sql } from "kysely";
import { appendJournal, type DeskStore, type Happening, type Writing } from "../store/index.ts";
import type { Envelope, SendOutcome } from "../tell/channel.ts";
import { type Claimed, LONGEST_PAUSE_MS } from "./claim.ts";

interface RecordOptions {
  readonly by: string;
  readonly now: number;
  /** Called when everything is written and nothing is stored yet. */
  readonly written: () => void;
}

const FIRST_PAUSE_MS = 15_000;
/** A message that could not be handed over for so long: its address counts as broken, and is still tried. */
const BROKEN_AFTER_MS = 60 * 60_000;

/** Records what became of a message after sending it, with what follows from that, in one transaction. */
export async function recordOutcome(
  store: DeskStore,
  claimed: Claimed,
  outcome: SendOutcome,
  options: RecordOptions,
): Promise<void> {
  await store.amend(async (tx) => {
    switch (outcome.outcome) {
      case "accepted":
        await recordAccepted(tx, claimed, outcome.reply, options.now);
        break;
      case "later":
        await recordLater(tx, claimed, outcome.reason, options);
        break;
      case "refused":
        await recordRefused(tx, claimed, outcome.reason, options);
        break;
    }
    options.written();
  });
}

async function recordAccepted(tx: Writing, { envelope, attempts }: Claimed, reply: string, now: number) {
  const { key, channel, address, person } = envelope;
  const recorded = await tx
    .updateTable("outbox")
    .set({
      ...{ state: "sent", finished_at: now, reply, lease_until: null, attempts: attempts + 1 },
      envelope_json: JSON.stringify(withoutLink(envelope)),
    })
    .where("key", "=", key)
    .where("state", "!=", "sent")
    .executeTakeFirst();
  if (recorded.numUpdatedRows === 0n) return;
  const covers = await tx.selectFrom("outbox_cover").selectAll().where("outbox_key", "=", key).execute();
  for (const { matter, path_id, person: told, sequence, kind, told_json } of covers) {
    const row = {
      matter,
      path_id,
      person: told,
      sequence,
      kind,
      at: now,
      told_json,
      channel,
      outbox_key: key,
    };
    await tx
      .insertInto("delivery")
      .values(row)
      .onConflict((conflict) =>
        conflict.columns(["matter", "path_id", "person", "sequence"]).doUpdateSet({
          // By a second channel it is the same message, told when the first one told it.
          at: sql`case when delivery.kind = excluded.kind then delivery.at else excluded.at end`,
          kind,
          told_json,
        }),
      )
      .execute();
  }
  await tx.deleteFrom("broken_way").where("channel", "=", channel).where("address", "=", address).execute();
  await lookNow(
    tx,
    covers.map(({ site }) => site),
    now,
  );
  await appendJournal(tx, [
    happening(envelope, "delivery", `Handed over to ${person} by ${channel}: ${reply}`, now),
  ]);
}

/** Once handed over, the link is the reader's alone. */
function withoutLink(envelope: Envelope): Envelope {
  const { acknowledgeUrl, ...others } = envelope;
  if (acknowledgeUrl === undefined) return envelope;
  return { ...others, text: others.text.replaceAll(acknowledgeUrl, "(link to acknowledge)") };
}

async function recordLater(
  tx: Writing,
  { envelope, attempts, writtenAt }: Claimed,
  reason: string,
  { by, now }: RecordOptions,
): Promise<void> {
  const pauseMs = Math.min(LONGEST_PAUSE_MS, FIRST_PAUSE_MS * 2 ** Math.min(attempts, 10));
  await tx
    .updateTable("outbox")
    .set({
      state: "waiting",
      attempts: attempts + 1,
      due_at: now + pauseMs,
      lease_until: null,
      reply: reason,
    })
    .where("key", "=", envelope.key)
    .where("state", "=", "claimed")
    .where("claimed_by", "=", by)
    .execute();
  const happenings: Happening[] = [];
  if (attempts === 0) happenings.push(happening(envelope, "delivery", notYet(envelope, reason), now));
  if (now - writtenAt >= BROKEN_AFTER_MS) {
    const minutes = Math.floor((now - writtenAt) / 60_000);
    happenings.push(
      ...(await markBroken(tx, envelope, `not handed over for ${minutes} min: ${reason}`, now)),
    );
  }
  await appendJournal(tx, happenings);
}

function notYet({ person, channel }: Envelope, reason: string): string {
  return `Not handed over to ${person} by ${channel}, to be tried again: ${reason}`;
}

async function recordRefused(
  tx: Writing,
  { envelope, attempts }: Claimed,
  reason: string,
  { now }: RecordOptions,
): Promise<void> {
  await tx
    .updateTable("outbox")
    .set({ state: "refused", finished_at: now, attempts: attempts + 1, lease_until: null, reply: reason })
    .where("key", "=", envelope.key)
    .where("state", "!=", "sent")
    .execute();
  await appendJournal(tx, await markBroken(tx, envelope, reason, now));
}

/** The address reaches nobody: the sites look at their people again, so that the others are told. */
async function markBroken(
  tx: Writing,
  envelope: Envelope,
  reason: string,
  now: number,
): Promise<readonly Happening[]> {
  const { channel, address, person, key } = envelope;
  const added = await tx
    .insertInto("broken_way")
    .values({ channel, address, since_at: now, reason })
    .onConflict((conflict) => conflict.columns(["channel", "address"]).doNothing())
    .executeTakeFirst();
  if (added.numInsertedOrUpdatedRows === 0n) return [];
  const covers = await tx.selectFrom("outbox_cover").select("site").where("outbox_key", "=", key).execute();
  await lookNow(
    tx,
    covers.map(({ site }) => site),
    now,
  );
  return [happening(envelope, "delivery", `${person} is not reached by ${channel}: ${reason}`, now)];
}

async function lookNow(tx: Writing, sites: readonly string[], now: number): Promise<void> {
  for (const site of new Set(sites))
    await tx
      .updateTable("next_look")
      .set({ at: now })
      .where("site", "=", site)
      .where("at", ">", now)
      .execute();
}

function happening({ site, matter }: Envelope, kind: string, text: string, at: number): Happening {
  return { at, kind, site, subject: matter, by: null, text };
}
