import type Database from "better-sqlite3";
import type { Writing } from "./asking.ts";
import { addReadingsQuery, type Bulk, putText, type Row } from "./bulk.ts";
import type { DeskTables } from "./tables.ts";

type Reading = DeskTables["reading"];

/** Readings of one statement: more of them gain nothing. */
const TOGETHER = 10;

/**
 * There is one connection, so what is run on it is part of the transaction. A statement that may undo itself keeps a journal of
 * its own as soon as it has several rows, and costs more than it saves. Readings are added by one that fails instead of
 * undoing: the transaction is rolled back by what it throws.
 */
export function sqliteBulk(raw: Database.Database): Bulk {
  const statements = new Map<string, Database.Statement>();

  function statementOf(name: string, textOf: () => string): Database.Statement {
    const known = statements.get(name);
    if (known !== undefined) return known;
    const statement = raw.prepare(textOf());
    statements.set(name, statement);
    return statement;
  }

  function addSome(tx: Writing, some: readonly Reading[], added: Set<string>): void {
    const textOf = () =>
      addReadingsQuery(tx, some as unknown as readonly Row[])
        .orFail()
        .compile().sql;
    const values: unknown[] = [];
    for (const row of some) addValues(values, row);
    const { changes, lastInsertRowid } = statementOf(`reading ${String(some.length)}`, textOf).run(values);
    if (changes === some.length) for (const { key } of some) added.add(key);
    else if (changes > 0) for (const key of newestKeys(Number(lastInsertRowid), changes)) added.add(key);
  }

  /** Rows are numbered on from the last one. */
  function newestKeys(lastNumber: number, count: number): readonly string[] {
    const asked = statementOf("newest", () => "select key from reading where rowid > ? and rowid <= ?");
    const rows = asked.all(lastNumber - count, lastNumber) as readonly Pick<Reading, "key">[];
    return rows.map(({ key }) => key);
  }

  // A promise all the same: what a statement throws is a rejection, as on every database.
  return {
    // eslint-disable-next-line @typescript-eslint/require-await
    put: async (tx, table, rows) => {
      if (rows.length === 0) return;
      const statement = statementOf(table, () => putText(tx, table, [rows[0] as Row]));
      for (const row of rows) statement.run(...(Object.values(row) as unknown[]));
    },
    // eslint-disable-next-line @typescript-eslint/require-await
    addReadings: async (tx, rows) => {
      const added = new Set<string>();
      const whole = rows.length - (rows.length % TOGETHER);
      for (let from = 0; from < whole; from += TOGETHER)
        addSome(tx, rows.slice(from, from + TOGETHER), added);
      for (const row of rows.slice(whole)) addSome(tx, [row], added);
      return added;
    },
  };
}

/** In the order in which the statement names them. Written out: it is done for every reading. */
function addValues(values: unknown[], row: Reading): void {
  const { site, array_id, device, source, kind, at, value_number, value_word, quality, key, received_at } =
    row;
  values.push(site, array_id, device, source, kind, at, value_number, value_word, quality, key, received_at);
}
