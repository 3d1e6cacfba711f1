import type { SheetTable } from "./sheet-table.ts";

/** A spreadsheet takes a text that begins so for a formula and runs it. */
const FORMULA = /^[=+\-@\t\r]/u;

/**
 * A table as CSV (RFC 4180: comma, CRLF, quotes doubled) in UTF-8 with its mark, so that spreadsheets read accents. A text
 * that a spreadsheet would run as a formula gets an apostrophe before it.
 */
export function sheetCsv({ columns, rows }: SheetTable): string {
  const lines = [columns.map(({ head }) => head), ...rows];
  return `\uFEFF${lines.map((cells) => cells.map(cellText).join(",")).join("\r\n")}\r\n`;
}

function cellText(text: string): string {
  const plain = FORMULA.test(text) ? `'${text}` : text;
  return /[",\r\n]/u.test(plain) ? `"${plain.replaceAll('"', '""')}"` : plain;
}
