import { type Kysely, Migrator, sql, type Transaction } from "kysely";
import { checkSound } from "./check-sound.ts";
import type { DeskStore, StorePlace } from "./desk-store.ts";
import { migrationsInCode } from "./migrations.ts";
import { postgresBulk } from "./postgres-bulk.ts";
import { openPostgres } from "./postgres.ts";
import { sqliteBulk } from "./sqlite-bulk.ts";
import { backupSqlite, integrityProblems, openSqlite, type SqliteBase } from "./sqlite.ts";
import { StoreError } from "./store-error.ts";
import { TroubleMinder } from "./store-trouble.ts";
import type { DeskTables } from "./tables.ts";

/**
 * Opens the store and brings its tables up to date.
 *
 * @throws StoreError STORE_OPEN_FAILED | STORE_VERSION_NEWER
 */
export async function openStore(place: StorePlace): Promise<DeskStore> {
  const sqlite = place.kind === "sqlite" ? attempt(() => openSqlite(place.file)) : null;
  const db = sqlite?.db ?? attempt(() => openPostgres((place as { url: string }).url, limitOf(place)));
  try {
    await migrate(db);
  } catch (error) {
    await db.destroy();
    throw error instanceof StoreError ? error : openFailed(error);
  }
  return storeOf(place.kind, db, sqlite);
}

function limitOf(place: StorePlace): number | undefined {
  return place.kind === "postgres" ? place.maxConnections : undefined;
}

function attempt<Result>(open: () => Result): Result {
  try {
    return open();
  } catch (error) {
    throw openFailed(error);
  }
}

function openFailed(error: unknown): StoreError {
  const text = error instanceof Error ? error.message : String(error);
  return new StoreError("STORE_OPEN_FAILED", text, error);
}

async function migrate(db: Kysely<DeskTables>): Promise<void> {
  const migrator = new Migrator({ db, provider: migrationsInCode });
  const known = Object.keys(await migrationsInCode.getMigrations());
  const done = (await migrator.getMigrations()).filter(({ executedAt }) => executedAt !== undefined);
  const { error } = await migrator.migrateToLatest();
  if (error === undefined) return;
  const text = error instanceof Error ? error.message : "";
  if (text.includes("corrupted migrations") || done.length > known.length)
    throw new StoreError("STORE_VERSION_NEWER", "It was written by a newer version. Run that one.", error);
  throw openFailed(error);
}

function storeOf(kind: StorePlace["kind"], db: Kysely<DeskTables>, sqlite: SqliteBase | null): DeskStore {
  const takePen = penTaker(db);
  const minder = new TroubleMinder();
  return {
    kind,
    db,
    bulk: sqlite === null ? postgresBulk() : sqliteBulk(sqlite.raw),
    write: (work) => minder.mind(db.transaction().execute(async (tx) => work(tx, await takePen(tx)))),
    amend: (work) =>
      minder.mind(
        db.transaction().execute(async (tx) => {
          await holdPen(tx, kind);
          return work(tx);
        }),
      ),
    trouble: () => minder.trouble,
    backup: async (toFile) => {
      if (sqlite === null)
        throw new StoreError("STORE_BACKUP_ELSEWHERE", "Take the backup of this database with pg_dump.");
      await backupSqlite(sqlite, toFile);
    },
    checkSound: () => checkSound(db, sqlite === null ? [] : integrityProblems(sqlite.raw)),
    close: () => db.destroy(),
  };
}

/** The row lock of the pen is what makes one writing wait for the other, on every database. */
function penTaker(db: Kysely<DeskTables>): (tx: Transaction<DeskTables>) => Promise<number> {
  const query = db
    .updateTable("mark")
    .set({ value: sql`value + 1` })
    .where("name", "=", "pen")
    .returning("value")
    .compile();
  return async (tx) => {
    const { rows } = await tx.executeQuery(query);
    return rows[0]!.value;
  };
}

async function holdPen(tx: Transaction<DeskTables>, kind: StorePlace["kind"]): Promise<void> {
  const pen = tx.selectFrom("mark").select("value").where("name", "=", "pen");
  // SQLite has one connection here, and locks the whole database.
  await (kind === "postgres" ? pen.forUpdate() : pen).execute();
}
