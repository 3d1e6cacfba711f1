import type { Person } from "@earthbell/engine";
import type { Grounds, MessageToSend } from "@earthbell/model";
import type { Writing } from "../store/index.ts";
import type { ChannelKind } from "../tell/channel.ts";
import { waysOf } from "./recipients.ts";
import type { SiteRound } from "./rounds.ts";
import type { Way } from "./watch.ts";

/** A decided message to one person by one way. */
export interface Pending extends SiteRound {
  /** Key of the message and the channel: what goes by e-mail is another message than what goes by telephone. */
  readonly wayKey: string;
  readonly way: Way;
  readonly person: Person;
  readonly message: MessageToSend;
  readonly reason: Grounds;
  /** The row that has carried it so far; null for a message that is new. */
  readonly before: Carried | null;
}

/** A row of the outbox that carries a message already. */
export interface Carried {
  readonly outboxKey: string;
  readonly envelopeJson: string;
}

/** A refused message is not tried again at the same address before this. */
const REFUSED_RESTS_MS = 15 * 60_000;

/** The decided messages of rounds that have to be written: those on their way already are left alone. */
export async function pendingOf(
  tx: Writing,
  rounds: readonly SiteRound[],
  channels: readonly ChannelKind[],
  now: number,
): Promise<readonly Pending[]> {
  const decided = rounds.flatMap((one) => decidedOf(one, channels));
  const carried = await carriedBy(
    tx,
    decided.map(({ wayKey }) => wayKey),
  );
  return decided.flatMap((one): Pending[] => {
    const row = carried.get(one.wayKey);
    if (row === undefined) return [one];
    const before = { outboxKey: row.outbox_key, envelopeJson: row.envelope_json };
    const untouched = row.state === "waiting" && row.attempts === 0 && row.outbox_key === one.wayKey;
    // What nobody has tried to send yet may still say what is true now; later its key stands for what was sent.
    if (untouched && row.told_json !== JSON.stringify(one.message.told)) return [{ ...one, before }];
    const rested = now - (row.finished_at ?? now) >= REFUSED_RESTS_MS;
    const elsewhere = row.address !== one.way.address;
    if (row.state === "refused" && row.outbox_key === one.wayKey && (rested || elsewhere))
      return [{ ...one, before }];
    return [];
  });
}

function decidedOf(one: SiteRound, channels: readonly ChannelKind[]): readonly Pending[] {
  const { people } = one.site.filed.site;
  return one.round.decisions.flatMap(({ decision, person: id }) => {
    const person = people.find((known) => known.id === id);
    if (!decision.tell || person === undefined) return [];
    const { message, reason } = decision;
    return waysOf(person, channels).map((way): Pending => {
      const { matter, path, kind, sequence } = message;
      const wayKey = JSON.stringify([matter, path, id, kind, sequence, way.channel]);
      return { ...one, wayKey, way, person, message, reason, before: null };
    });
  });
}

const KEYS_AT_ONCE = 400;

async function carriedBy(tx: Writing, wayKeys: readonly string[]) {
  const found = new Map<string, Awaited<ReturnType<typeof carriedRows>>[number]>();
  for (let from = 0; from < wayKeys.length; from += KEYS_AT_ONCE) {
    const rows = await carriedRows(tx, wayKeys.slice(from, from + KEYS_AT_ONCE));
    for (const row of rows) found.set(row.way_key, row);
  }
  return found;
}

function carriedRows(tx: Writing, wayKeys: readonly string[]) {
  return tx
    .selectFrom("outbox_cover")
    .innerJoin("outbox", "outbox.key", "outbox_cover.outbox_key")
    .select([
      "outbox_cover.way_key",
      "outbox_cover.outbox_key",
      "outbox_cover.told_json",
      "outbox.state",
      "outbox.attempts",
      "outbox.address",
      "outbox.finished_at",
      "outbox.envelope_json",
    ])
    .where("outbox_cover.way_key", "in", wayKeys)
    .execute();
}
