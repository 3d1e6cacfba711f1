import type Database from "better-sqlite3";
import type { Writing } from "./asking.ts";
import { addReadingsQuery, type Bulk, putText, type Row } from "./bulk.ts";
import type { DeskTables } from "./tables.ts";

/**
 * A statement costs next to nothing here, and one of a single row least of all: with several rows, or with rows to answer,
 * SQLite keeps a journal of the statement. There is one connection, so what is run on it is part of the transaction.
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

  // A promise all the same: what a statement throws is a rejection, as on every database.
  return {
    // eslint-disable-next-line @typescript-eslint/require-await
    put: async (tx, table, rows) => {
      if (rows.length === 0) return;
      const statement = statementOf(table, () => putText(tx, table, [rows[0] as Row]));
      for (const row of rows) statement.run(Object.values(row));
    },
    // eslint-disable-next-line @typescript-eslint/require-await
    addReadings: async (tx: Writing, rows: readonly DeskTables["reading"][]) => {
      const added = new Set<string>();
      if (rows.length === 0) return added;
      const first = rows[0] as unknown as Row;
      const statement = statementOf("reading", () => addReadingsQuery(tx, [first]).compile().sql);
      for (const row of rows) if (statement.run(Object.values(row)).changes === 1) added.add(row.key);
      return added;
    },
  };
}
