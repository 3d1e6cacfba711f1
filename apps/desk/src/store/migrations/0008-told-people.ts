import type { Kysely } from "kysely";

/** The last message to an address, and the links that were used, are found without reading every message. */
export async function toldPeople(db: Kysely<unknown>): Promise<void> {
  await db.schema.createIndex("outbox_address").on("outbox").columns(["address", "written_at"]).execute();
  await db.schema.createIndex("ack_link_used").on("ack_link").column("used_at").execute();
}
