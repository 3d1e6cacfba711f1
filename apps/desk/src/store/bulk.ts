import { CompiledQuery } from "kysely";
import type { Writing } from "./asking.ts";
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
  reading: ["key"],
} as const satisfies Partial<{ readonly [Name in keyof DeskTables]: readonly (keyof DeskTables[Name])[] }>;

type BulkTable = keyof typeof KEYS;
type Row = Readonly<Record<string, unknown>>;

/** Rows of one statement: few sizes, so that each statement is put together once and stays prepared. */
const SIZES = [64, 8, 1];

/**
 * Writes many rows with few statements, whose text is put together once. Every row of a table names all its columns in
 * the same order.
 */
export class Bulk {
  readonly #texts = new Map<string, string>();

  /** Puts rows in, or over those with the same key. */
  async put<Name extends BulkTable>(
    tx: Writing,
    table: Name,
    rows: readonly Partial<DeskTables[Name]>[],
  ): Promise<void> {
    await this.#run(tx, table, rows, "put");
  }

  /** Adds readings whose key is not there yet. @returns keys of those that were added */
  async addReadings(tx: Writing, rows: readonly DeskTables["reading"][]): Promise<ReadonlySet<string>> {
    const added = await this.#run(tx, "reading", rows, "add");
    return new Set(added.map((row) => (row as { readonly key: string }).key));
  }

  async #run(tx: Writing, table: BulkTable, rows: readonly object[], how: "put" | "add"): Promise<unknown[]> {
    const answers: unknown[] = [];
    let from = 0;
    while (from < rows.length) {
      const size = SIZES.find((one) => one <= rows.length - from)!;
      const some = rows.slice(from, from + size) as readonly Row[];
      const text = this.#textOf(tx, table, some, how);
      const parameters = some.flatMap((row) => Object.values(row));
      const { rows: answered } = await tx.executeQuery(CompiledQuery.raw(text, parameters));
      answers.push(...answered);
      from += size;
    }
    return answers;
  }

  #textOf(tx: Writing, table: BulkTable, rows: readonly Row[], how: "put" | "add"): string {
    const name = `${how} ${table} ${rows.length}`;
    const known = this.#texts.get(name);
    if (known !== undefined) return known;
    const text = how === "put" ? putText(tx, table, rows) : addText(tx, rows);
    this.#texts.set(name, text);
    return text;
  }
}

function putText(tx: Writing, table: BulkTable, rows: readonly Row[]): string {
  const keys = KEYS[table] as readonly string[];
  const others = Object.keys(rows[0]!).filter((column) => !keys.includes(column));
  return tx
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

function addText(tx: Writing, rows: readonly Row[]): string {
  return tx
    .insertInto("reading")
    .values(rows as never)
    .onConflict((conflict) => conflict.column("key").doNothing())
    .returning("key")
    .compile().sql;
}
