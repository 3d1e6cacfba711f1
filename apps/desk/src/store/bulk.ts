import type { Asking, Writing } from "./asking.ts";
import type { DeskTables } from "./tables.ts";

/** Tables that are written row by row of what the watch keeps in memory, with their keys. */
const KEYS = {
  detector: ["site", "array_id"],
  alarm: ["id"],
  fault_case: ["id"],
  last_known: ["site", "device", "source", "kind", "array_id"],
  insulation_day: ["site", "array_id", "device", "date"],
  path_watch: ["site", "path_id"],
  drill: ["id"],
  drill_plan: ["site", "path_id"],
  next_look: ["site"],
} as const satisfies Partial<{ readonly [Name in keyof DeskTables]: readonly (keyof DeskTables[Name])[] }>;

export type BulkTable = keyof typeof KEYS;
export type Row = Readonly<Record<string, unknown>>;

/**
 * Writes many rows with statements whose text is put together once. Every row of a table names all its columns in the same
 * order.
 */
export interface Bulk {
  /** Puts rows in, or over those with the same key. */
  put<Name extends BulkTable>(
    tx: Writing,
    table: Name,
    rows: readonly Partial<DeskTables[Name]>[],
  ): Promise<void>;
  /** Adds readings whose key is not there yet. @returns keys of those that were added */
  addReadings(tx: Writing, rows: readonly DeskTables["reading"][]): Promise<Set<string>>;
}

/** The statement that puts as many rows as these in, or over those with the same key. */
export function putText(db: Asking, table: BulkTable, rows: readonly Row[]): string {
  const keys = KEYS[table] as readonly string[];
  const others = Object.keys(rows[0]!).filter((column) => !keys.includes(column));
  return db
    .insertInto(table)
    .values(rows as never)
    .onConflict((conflict) =>
      conflict
        .columns(keys as never)
        .doUpdateSet((eb) =>
          Object.fromEntries(others.map((column) => [column, eb.ref(`excluded.${column}` as never)])),
        ),
    )
    .compile().sql;
}

/** The statement that adds as many readings as these, except those whose key is there. */
export function addReadingsQuery(db: Asking, rows: readonly Row[]) {
  return db
    .insertInto("reading")
    .values(rows as never)
    .onConflict((conflict) => conflict.column("key").doNothing());
}
