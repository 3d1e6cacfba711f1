import type { Kysely } from "kysely";

/** Visits that were handed over: what they are about, what people entered, and which photos lie beside the database. */
export async function visits(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createTable("visit")
    .addColumn("id", "text", (column) => column.primaryKey())
    .addColumn("site", "text", (column) => column.notNull())
    .addColumn("case_id", "text")
    .addColumn("title", "text", (column) => column.notNull())
    .addColumn("begun_at", "bigint", (column) => column.notNull())
    .addColumn("set_up_json", "text", (column) => column.notNull())
    .addColumn("by", "text", (column) => column.notNull())
    .addColumn("received_at", "bigint", (column) => column.notNull())
    .execute();
  await db.schema
    .createTable("visit_entry")
    .addColumn("visit", "text", (column) => column.notNull())
    .addColumn("id", "text", (column) => column.notNull())
    .addColumn("by", "text", (column) => column.notNull())
    .addColumn("entry_json", "text", (column) => column.notNull())
    .addColumn("received_at", "bigint", (column) => column.notNull())
    .addPrimaryKeyConstraint("visit_entry_key", ["visit", "id"])
    .execute();
  await db.schema
    .createTable("visit_photo")
    .addColumn("visit", "text", (column) => column.notNull())
    .addColumn("id", "text", (column) => column.notNull())
    .addColumn("name", "text", (column) => column.notNull())
    .addColumn("taken_at", "bigint", (column) => column.notNull())
    .addColumn("media_type", "text", (column) => column.notNull())
    .addColumn("bytes", "bigint", (column) => column.notNull())
    .addColumn("digest", "text", (column) => column.notNull())
    .addColumn("by", "text", (column) => column.notNull())
    .addColumn("received_at", "bigint", (column) => column.notNull())
    .addPrimaryKeyConstraint("visit_photo_key", ["visit", "id"])
    .execute();
  await db.schema.createIndex("visit_site").on("visit").column("site").execute();
  await db.schema.createIndex("visit_case").on("visit").column("case_id").execute();
}
