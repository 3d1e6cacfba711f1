import { CompiledQuery } from "kysely";
import type { Writing } from "./asking.ts";
import { addReadingsQuery, type Bulk, putText, type Row } from "./bulk.ts";

/** Rows of one statement: few sizes, so that each statement is put together once. */
const SIZES = [64, 8, 1];

/** Every statement is a way to the server and back, so each takes many rows along. */
export function postgresBulk(): Bulk {
  const texts = new Map<string, string>();

  async function run(
    tx: Writing,
    rows: readonly object[],
    name: string,
    textOf: (some: readonly Row[]) => string,
  ): Promise<unknown[]> {
    const answers: unknown[] = [];
    let from = 0;
    while (from < rows.length) {
      const size = SIZES.find((one) => one <= rows.length - from)!;
      const some = rows.slice(from, from + size) as readonly Row[];
      const text = texts.get(`${name} ${size}`) ?? textOf(some);
      texts.set(`${name} ${size}`, text);
      const parameters = some.flatMap((row) => Object.values(row));
      const { rows: answered } = await tx.executeQuery(CompiledQuery.raw(text, parameters));
      answers.push(...answered);
      from += size;
    }
    return answers;
  }

  return {
    put: async (tx, table, rows) => {
      await run(tx, rows, table, (some) => putText(tx, table, some));
    },
    addReadings: async (tx, rows) => {
      const added = await run(
        tx,
        rows,
        "reading",
        (some) => addReadingsQuery(tx, some).returning("key").compile().sql,
      );
      return new Set(added.map((row) => (row as { readonly key: string }).key));
    },
  };
}
