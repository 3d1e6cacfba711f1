import type { Asking } from "../store/index.ts";
import type { ToldWay } from "./told-people.ts";

/** The message that was written last to somebody. */
export interface LastMessage {
  readonly at: number;
  readonly site: string;
  readonly channel: string;
  readonly kind: string;
  readonly state: "waiting" | "claimed" | "sent" | "refused";
  readonly reply: string | null;
}

/** The last message that somebody answered by its link. */
export interface LastAnswer {
  readonly at: number;
  readonly site: string;
  readonly kind: string;
  /** From handing the message over to the answer [ms]. */
  readonly tookMs: number;
}

/** @param sites  those that the asker may see; null for all */
export async function lastMessage(
  db: Asking,
  ways: readonly ToldWay[],
  sites: readonly string[] | null,
): Promise<LastMessage | null> {
  if (ways.length === 0) return null;
  let query = db
    .selectFrom("outbox")
    .select(["written_at as at", "site", "channel", "kind", "state", "reply"])
    .where("address", "in", addresses(ways))
    .orderBy("written_at", "desc")
    .limit(1);
  if (sites !== null) query = query.where("site", "in", [...sites]);
  return (await query.executeTakeFirst()) ?? null;
}

/** Answers that were given at the desk itself stand under the name of an account and are not found here. */
export async function lastAnswer(
  db: Asking,
  ways: readonly ToldWay[],
  sites: readonly string[] | null,
): Promise<LastAnswer | null> {
  if (ways.length === 0) return null;
  let query = db
    .selectFrom("ack_link")
    .innerJoin("outbox", "outbox.key", "ack_link.outbox_key")
    .select(["ack_link.used_at", "outbox.site", "outbox.kind", "outbox.finished_at", "outbox.written_at"])
    .where("ack_link.used_at", "is not", null)
    .where("outbox.address", "in", addresses(ways))
    .orderBy("ack_link.used_at", "desc")
    .limit(1);
  if (sites !== null) query = query.where("outbox.site", "in", [...sites]);
  const row = await query.executeTakeFirst();
  if (row === undefined) return null;
  const at = row.used_at!;
  // Answered while the mail server was still talking: counted from when it was written.
  const from = Math.min(at, row.finished_at ?? row.written_at);
  return { at, site: row.site, kind: row.kind, tookMs: at - from };
}

function addresses(ways: readonly ToldWay[]): string[] {
  return [...new Set(ways.map(({ address }) => address))];
}
