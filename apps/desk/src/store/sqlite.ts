import Database from "better-sqlite3";
import { Kysely, SqliteDialect, type SqliteStatement } from "kysely";
import { access, rename, rm } from "node:fs/promises";
import type { DeskTables } from "./tables.ts";
import { StoreError } from "./store-error.ts";

/** An open embedded database: what Kysely asks, and the database itself for what only it can do. */
export interface SqliteBase {
  readonly raw: Database.Database;
  readonly db: Kysely<DeskTables>;
}

/** 16 MB: pages that change with every reading are written back once for many changes. */
const PAGES_OF_LOG = 4000;
/** Statements that are kept prepared: the watch asks the same few over and over. */
const PREPARED = 200;

export function openSqlite(file: string): SqliteBase {
  const raw = new Database(file, { timeout: 10_000 });
  raw.pragma("journal_mode = WAL");
  // FULL: a transaction that was answered survives the loss of power, not only the end of the process.
  raw.pragma("synchronous = FULL");
  raw.pragma(`wal_autocheckpoint = ${PAGES_OF_LOG}`);
  const prepared = new Map<string, SqliteStatement>();
  const prepare = (sql: string): SqliteStatement => {
    // A full disk ends the transaction by itself; the rollback that follows must not hide that error behind one of its own.
    if (sql === "rollback" && !raw.inTransaction) return NOTHING;
    // Every transaction writes: taking the lock at its begin, it waits for others instead of failing in its middle.
    if (sql === "begin") return prepareOnce("begin immediate");
    return prepareOnce(sql);
  };
  const prepareOnce = (sql: string): SqliteStatement => {
    const known = prepared.get(sql);
    if (known !== undefined) return known;
    const statement = raw.prepare(sql) as unknown as SqliteStatement;
    if (prepared.size >= PREPARED) prepared.delete(prepared.keys().next().value!);
    prepared.set(sql, statement);
    return statement;
  };
  const dialect = new SqliteDialect({ database: { prepare, close: () => void raw.close() } });
  return { raw, db: new Kysely<DeskTables>({ dialect }) };
}

const NOTHING: SqliteStatement = {
  reader: false,
  all: () => [],
  run: () => ({ changes: 0, lastInsertRowid: 0 }),
  iterate: () => [][Symbol.iterator](),
};

/** Copies page by page while the desk runs, checks the copy, and only then gives it its name. */
export async function backupSqlite({ raw }: SqliteBase, toFile: string): Promise<void> {
  if (await exists(toFile))
    throw new StoreError("STORE_BACKUP_EXISTS", `${toFile} exists. Name another file.`);
  const part = `${toFile}.part`;
  await rm(part, { force: true });
  try {
    await raw.backup(part);
    const problems = problemsOf(part);
    if (problems.length > 0) throw new StoreError("STORE_BACKUP_UNSOUND", problems.join("; "));
    await rename(part, toFile);
  } catch (error) {
    await rm(part, { force: true });
    throw error;
  } finally {
    // Left over by the check, which may not write and so not tidy up either; they hold nothing.
    for (const end of ["-wal", "-shm"]) await rm(`${part}${end}`, { force: true });
  }
}

function problemsOf(file: string): readonly string[] {
  const copy = new Database(file, { readonly: true });
  try {
    return integrityProblems(copy);
  } finally {
    copy.close();
  }
}

export function integrityProblems(raw: Database.Database): readonly string[] {
  const rows = raw.pragma("integrity_check") as readonly { readonly integrity_check: string }[];
  return rows.map((row) => row.integrity_check).filter((text) => text !== "ok");
}

async function exists(file: string): Promise<boolean> {
  return access(file).then(
    () => true,
    () => false,
  );
}
