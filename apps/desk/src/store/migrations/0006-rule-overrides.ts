import type { Kysely } from "kysely";

/** Values of rule packs that people of the desk replaced, with those that were taken back. */
export async function ruleOverrides(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createTable("rule_override")
    .addColumn("id", "text", (column) => column.primaryKey())
    .addColumn("pack", "text", (column) => column.notNull())
    .addColumn("field", "text", (column) => column.notNull())
    .addColumn("value", "double precision", (column) => column.notNull())
    .addColumn("replaced", "double precision", (column) => column.notNull())
    .addColumn("because", "text", (column) => column.notNull())
    .addColumn("source", "text", (column) => column.notNull())
    .addColumn("by", "text", (column) => column.notNull())
    .addColumn("put_at", "bigint", (column) => column.notNull())
    .addColumn("ended_at", "bigint")
    .addColumn("ended_by", "text")
    .addColumn("ended_because", "text")
    .execute();
  await db.schema.createIndex("rule_override_ended").on("rule_override").column("ended_at").execute();
}
