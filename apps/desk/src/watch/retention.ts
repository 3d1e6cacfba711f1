import type { DeskStore } from "../store/index.ts";

const DAY = 86_400_000;

/** How long what is not evidence is kept. Daily insulation, alarms, cases, deliveries and the journal stay. */
const KEPT_MS = {
  /** Longer than any detector looks back, and than a listener is out of reach for. */
  readings: 35 * DAY,
  setAside: 35 * DAY,
  requests: 7 * DAY,
  links: 90 * DAY,
  messages: 400 * DAY,
} as const;

/** Clears away what has been kept for long enough. */
export async function clearAway(store: DeskStore, now: number): Promise<void> {
  await store.amend(async (tx) => {
    const { readings, setAside, requests, links, messages } = KEPT_MS;
    await tx
      .deleteFrom("reading")
      .where("received_at", "<", now - readings)
      .execute();
    await tx
      .deleteFrom("set_aside")
      .where("received_at", "<", now - setAside)
      .execute();
    await tx
      .deleteFrom("done_request")
      .where("at", "<", now - requests)
      .execute();
    await tx
      .deleteFrom("ack_link")
      .where("expires_at", "<", now - links)
      .execute();
    const old = tx
      .selectFrom("outbox")
      .select("key")
      .where("finished_at", "<", now - messages);
    await tx.deleteFrom("outbox_cover").where("outbox_key", "in", old).execute();
    await tx
      .deleteFrom("outbox")
      .where("finished_at", "<", now - messages)
      .execute();
  });
}
