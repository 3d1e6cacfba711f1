import type { Kysely } from "kysely";

/** Tokens by which people, and programs that act for them, ask the desk; and how the columns of a maker's file are read. */
export async function personTokens(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createTable("person_token")
    .addColumn("token_hash", "text", (column) => column.primaryKey())
    .addColumn("person", "text", (column) => column.notNull())
    .addColumn("issued_at", "bigint", (column) => column.notNull())
    .addColumn("issued_by", "text", (column) => column.notNull())
    .addColumn("revoked_at", "bigint")
    .execute();
  await db.schema
    .createTable("column_mapping")
    .addColumn("name", "text", (column) => column.primaryKey())
    .addColumn("mapping_json", "text", (column) => column.notNull())
    .addColumn("put_at", "bigint", (column) => column.notNull())
    .addColumn("put_by", "text", (column) => column.notNull())
    .execute();
}
