import { parse } from "csv-parse/sync";
import type { InputFault } from "../faults/input-fault.ts";
import type { FaultMaker } from "./fault-maker.ts";

/** One record and the line on which it begins. */
export interface CsvRow {
  readonly record: readonly string[];
  readonly line: number;
}

/** The rows of a CSV text; the separator is the one that the first line has most of, where none is given. */
export function csvRows(
  text: string,
  given: string | undefined,
  fault: FaultMaker,
):
  | { readonly ok: true; readonly rows: readonly CsvRow[] }
  | { readonly ok: false; readonly fault: InputFault } {
  const first = text.slice(0, text.search(/\n|$/u));
  const count = (sign: string): number => first.split(sign).length;
  const delimiter = given ?? [",", ";", "\t"].sort((a, b) => count(b) - count(a))[0]!;
  try {
    const parsed = parse(text, {
      delimiter,
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
    }) as unknown as readonly {
      readonly record: readonly string[];
      readonly info: { readonly lines: number };
    }[];
    // The parser counts lines up to the end of a record; quoted line breaks inside it came before.
    const rows = parsed.map(({ record, info }) => ({
      record,
      line: info.lines - record.reduce((breaks, cell) => breaks + cell.split("\n").length - 1, 0),
    }));
    return { ok: true, rows };
  } catch (error) {
    const line = /line (\d+)/u.exec(error instanceof Error ? error.message : "")?.[1];
    const allowed = "cells in straight quotes, a quote inside written twice";
    const message = "A quote is left open, or stands inside a cell without quotes.";
    return {
      ok: false,
      fault: fault(
        "HISTORY_TABLE_INVALID",
        line === undefined ? null : Number(line),
        "",
        null,
        allowed,
        message,
      ),
    };
  }
}
