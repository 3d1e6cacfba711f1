import type { Kysely } from "kysely";

/** What beacons show, files that were taken from folders, and links by which an owner looks at sites. */
export async function beaconsFilesLinks(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createTable("beacon_site")
    .addColumn("beacon", "text", (column) => column.notNull())
    .addColumn("site", "text", (column) => column.notNull())
    .addColumn("raised_json", "text", (column) => column.notNull())
    .addPrimaryKeyConstraint("beacon_site_key", ["beacon", "site"])
    .execute();
  await db.schema
    .createTable("taken_file")
    .addColumn("folder", "text", (column) => column.notNull())
    .addColumn("digest", "text", (column) => column.notNull())
    .addColumn("name", "text", (column) => column.notNull())
    .addColumn("at", "bigint", (column) => column.notNull())
    .addColumn("taken", "bigint", (column) => column.notNull())
    .addColumn("known", "bigint", (column) => column.notNull())
    .addPrimaryKeyConstraint("taken_file_key", ["folder", "digest"])
    .execute();
  await db.schema
    .createTable("owner_link")
    .addColumn("id", "text", (column) => column.primaryKey())
    .addColumn("token_hash", "text", (column) => column.notNull().unique())
    .addColumn("sites_json", "text", (column) => column.notNull())
    .addColumn("label", "text", (column) => column.notNull())
    .addColumn("issued_at", "bigint", (column) => column.notNull())
    .addColumn("issued_by", "text", (column) => column.notNull())
    .addColumn("expires_at", "bigint", (column) => column.notNull())
    .addColumn("opened_at", "bigint")
    .addColumn("revoked_at", "bigint")
    .addColumn("revoked_by", "text")
    .execute();
}
