import type { Kysely } from "kysely";

/** People who sign in: accounts, passkeys, sessions, invitations, and links by which an owner looks at a site. */
export async function accounts(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createTable("account")
    .addColumn("id", "text", (column) => column.primaryKey())
    .addColumn("name", "text", (column) => column.notNull().unique())
    .addColumn("role", "text", (column) => column.notNull())
    .addColumn("sites_json", "text")
    .addColumn("password_hash", "text")
    .addColumn("created_at", "bigint", (column) => column.notNull())
    .addColumn("created_by", "text", (column) => column.notNull())
    .addColumn("disabled_at", "bigint")
    .execute();
  await db.schema
    .createTable("passkey")
    .addColumn("id", "text", (column) => column.primaryKey())
    .addColumn("account_id", "text", (column) => column.notNull())
    .addColumn("public_key", "text", (column) => column.notNull())
    .addColumn("counter", "bigint", (column) => column.notNull())
    .addColumn("transports_json", "text", (column) => column.notNull())
    .addColumn("label", "text", (column) => column.notNull())
    .addColumn("created_at", "bigint", (column) => column.notNull())
    .execute();
  await db.schema
    .createTable("session")
    .addColumn("token_hash", "text", (column) => column.primaryKey())
    .addColumn("account_id", "text", (column) => column.notNull())
    .addColumn("created_at", "bigint", (column) => column.notNull())
    .addColumn("seen_at", "bigint", (column) => column.notNull())
    .execute();
  await db.schema
    .createTable("invitation")
    .addColumn("token_hash", "text", (column) => column.primaryKey())
    .addColumn("role", "text", (column) => column.notNull())
    .addColumn("sites_json", "text")
    .addColumn("issued_at", "bigint", (column) => column.notNull())
    .addColumn("issued_by", "text", (column) => column.notNull())
    .addColumn("expires_at", "bigint", (column) => column.notNull())
    .addColumn("used_at", "bigint")
    .execute();
}
