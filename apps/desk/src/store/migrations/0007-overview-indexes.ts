import type { Kysely } from "kysely";

/** What overviews of many sites count and page by, so that none of them reads whole tables. */
const INDEXES: readonly (readonly [table: string, columns: readonly string[]])[] = [
  // A file lies before what is told of it in a row: without this, each line of the register would read past the whole file.
  ["site", ["id", "removed_at", "revision", "put_at", "put_by", "digest"]],
  ["alarm", ["condition", "site", "id"]],
  ["path_watch", ["silent", "site"]],
  ["drill", ["site", "path_id", "started_at", "outcome", "ended_at"]],
  ["outbox", ["state", "written_at"]],
];

export async function overviewIndexes(db: Kysely<unknown>): Promise<void> {
  for (const [table, columns] of INDEXES)
    await db.schema
      .createIndex(`${table}_overview`)
      .on(table)
      .columns([...columns])
      .execute();
}
