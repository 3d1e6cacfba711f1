import { createHash } from "node:crypto";
import { sql } from "kysely";
import type { Asking, Writing } from "./asking.ts";
import type { JournalTable } from "./tables.ts";

/** Something that happened, to be written down. */
export interface Happening {
  readonly at: number;
  /** `alarm`, `case`, `message`, `delivery`, `site`, `drill`, `watch`, `person`, `visit`. */
  readonly kind: string;
  readonly site: string | null;
  readonly subject: string | null;
  readonly by: string | null;
  readonly text: string;
}

const BEGIN = "0".repeat(64);
const ROWS_AT_ONCE = 50;

/** Adds happenings to the journal, in order; each row carries the hash of the one before. */
export async function appendJournal(tx: Writing, happenings: readonly Happening[]): Promise<void> {
  if (happenings.length === 0) return;
  // Taking the counter first makes one appender wait for the other.
  const { value: last } = await tx
    .updateTable("mark")
    .set({ value: sql`value + ${happenings.length}` })
    .where("name", "=", "journal")
    .returning("value")
    .executeTakeFirstOrThrow();
  let sequence = last - happenings.length;
  let before = await hashOf(tx, sequence);
  const rows = happenings.map((happening): JournalTable => {
    sequence += 1;
    const row = { sequence, ...happening, before_hash: before };
    before = journalHash(row);
    return { ...row, hash: before };
  });
  for (let from = 0; from < rows.length; from += ROWS_AT_ONCE)
    await tx
      .insertInto("journal")
      .values(rows.slice(from, from + ROWS_AT_ONCE))
      .execute();
}

async function hashOf(db: Asking, sequence: number): Promise<string> {
  const row = await db
    .selectFrom("journal")
    .select("hash")
    .where("sequence", "=", sequence)
    .executeTakeFirst();
  return row?.hash ?? BEGIN;
}

function journalHash(row: Omit<JournalTable, "hash">): string {
  const { sequence, at, kind, site, subject, by, text, before_hash } = row;
  return createHash("sha256")
    .update(JSON.stringify([sequence, at, kind, site, subject, by, text, before_hash]))
    .digest("hex");
}

/** Sequence of the first row that was changed, lost or put in afterwards; null where the whole chain holds. */
export async function brokenJournalAt(db: Asking): Promise<number | null> {
  let before = BEGIN;
  let expected = 1;
  for (;;) {
    const rows = await journalAfter(db, expected - 1, 1000);
    for (const row of rows) {
      if (row.sequence !== expected || row.before_hash !== before || row.hash !== journalHash(row))
        return expected;
      before = row.hash;
      expected += 1;
    }
    if (rows.length < 1000) break;
  }
  const { value } = await db
    .selectFrom("mark")
    .select("value")
    .where("name", "=", "journal")
    .executeTakeFirstOrThrow();
  return value === expected - 1 ? null : expected;
}

/** Rows of the journal after a sequence number, oldest first. */
export function journalAfter(
  db: Asking,
  sequence: number,
  limit: number,
  only: { readonly site?: string; readonly subject?: string } = {},
): Promise<readonly JournalTable[]> {
  let query = db.selectFrom("journal").selectAll().where("sequence", ">", sequence);
  if (only.site !== undefined) query = query.where("site", "=", only.site);
  if (only.subject !== undefined) query = query.where("subject", "=", only.subject);
  return query.orderBy("sequence").limit(limit).execute();
}

/** Rows of the journal before a sequence number (null: the newest), newest first. */
export function journalBefore(
  db: Asking,
  sequence: number | null,
  limit: number,
  only: Readonly<Partial<Record<"by" | "kind" | "site" | "holds", string | undefined>>>,
): Promise<readonly JournalTable[]> {
  let query = db.selectFrom("journal").selectAll();
  if (sequence !== null) query = query.where("sequence", "<", sequence);
  for (const column of ["by", "kind", "site"] as const)
    if (only[column] !== undefined) query = query.where(column, "=", only[column]);
  if (only.holds !== undefined) {
    const words = `%${only.holds.toLowerCase().replace(/[\\%_]/gu, (sign) => `\\${sign}`)}%`;
    query = query.where(sql<boolean>`lower(text) like ${words} escape '\\'`);
  }
  return query.orderBy("sequence", "desc").limit(limit).execute();
}
