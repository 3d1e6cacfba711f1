import type { Page } from "./page.ts";
import { displayWidth } from "./width.ts";
import { padEnd, padStart, wrap } from "./wrap.ts";

/** One column of a table. */
export interface Column {
  readonly title: string;
  /** decimal: numbers stand on their decimal point, units after them in secondary ink. */
  readonly align: "left" | "right" | "decimal";
  /** The column may be wrapped when the page is narrow. */
  readonly flexible?: boolean;
}

/** A cell, with the ink for it where it is not plain. */
export type Cell = string | { readonly text: string; readonly ink: (text: string) => string };

const gap = 2;
const leastFlexible = 10;

/**
 * Lays rows out in aligned columns under a head and a hairline. Flexible columns wrap when the page is narrow; when that
 * is not enough each row becomes a small list of `title  value` lines, so that nothing is cut off.
 */
export function table(columns: readonly Column[], rows: readonly (readonly Cell[])[], page: Page): string[] {
  const aligned = columns.map((column, index) =>
    alignColumn(
      column,
      rows.map((row) => row[index] ?? ""),
      page,
    ),
  );
  const widths = fit(columns, aligned, page.width);
  if (!widths) return asLists(columns, rows, page);
  const head = columns.map(({ title, align }) =>
    alignText({ text: title, ink: page.style.secondary }, align === "right" ? padStart : padEnd),
  );
  const hairline = (page.ascii ? "-" : "─").repeat(total(widths));
  return [
    ...layRow(head, widths),
    page.style.secondary(hairline),
    ...rows.flatMap((_, row) =>
      layRow(
        aligned.map((cells) => cells[row]!),
        widths,
      ),
    ),
  ];
}

/** A cell ready to be set: how wide it is, and how to break it into lines of a width and ink them. */
interface SetCell {
  readonly columns: number;
  readonly lines: (width: number) => readonly string[];
}

function alignColumn(column: Column, cells: readonly Cell[], page: Page): readonly SetCell[] {
  if (column.align === "decimal") return alignDecimals(cells, page);
  return cells.map((cell) => alignText(cell, column.align === "right" ? padStart : padEnd));
}

function alignText(cell: Cell, pad: typeof padEnd): SetCell {
  const { text, ink } = parts(cell);
  return {
    columns: displayWidth(text),
    lines: (width) => wrap(text, width).map((line) => inkInside(pad(line, width), ink)),
  };
}

function alignDecimals(cells: readonly Cell[], page: Page): readonly SetCell[] {
  const split = cells.map((cell) => {
    const { text, ink } = parts(cell);
    const [, whole = "", fraction = "", unit = ""] = /^([^\d]*[\d\u2009\u202f]*)(\.\d+)?(.*)$/su.exec(text)!;
    return { whole, fraction, unit, ink };
  });
  const widest = (of: (one: (typeof split)[number]) => string): number =>
    Math.max(0, ...split.map((one) => displayWidth(of(one))));
  const wholeWidth = widest((one) => one.whole);
  const fractionWidth = widest((one) => one.fraction);
  const columns = wholeWidth + fractionWidth + widest((one) => one.unit);
  return split.map(({ whole, fraction, unit, ink }) => {
    const number = padStart(whole, wholeWidth) + padEnd(fraction, fractionWidth);
    const plain = number + unit;
    const set = inkInside(number, ink) + page.style.secondary(unit);
    return { columns, lines: (width) => [set + " ".repeat(Math.max(0, width - displayWidth(plain)))] };
  });
}

function parts(cell: Cell): { readonly text: string; readonly ink: (text: string) => string } {
  return typeof cell === "string" ? { text: cell, ink: (text) => text } : cell;
}

/** Inks the words and leaves the spaces around them bare. */
function inkInside(padded: string, ink: (text: string) => string): string {
  const bare = padded.trim();
  const start = padded.indexOf(bare);
  return padded.slice(0, start) + ink(bare) + padded.slice(start + bare.length);
}

/** The width of each column, or null when the page is too narrow for columns at all. */
function fit(
  columns: readonly Column[],
  cells: readonly (readonly SetCell[])[],
  pageWidth: number,
): readonly number[] | null {
  const natural = columns.map((column, index) =>
    Math.max(displayWidth(column.title), ...cells[index]!.map((cell) => cell.columns)),
  );
  const widths = [...natural];
  while (total(widths) > pageWidth) {
    const shrinkable = columns.flatMap((column, index) =>
      column.flexible === true && widths[index]! > leastFlexible ? [index] : [],
    );
    const broadest = shrinkable.sort((a, b) => widths[b]! - widths[a]!)[0];
    if (broadest === undefined) return null;
    widths[broadest] = widths[broadest]! - 1;
  }
  return widths;
}

function total(widths: readonly number[]): number {
  return widths.reduce((sum, width) => sum + width, 0) + gap * Math.max(0, widths.length - 1);
}

function layRow(cells: readonly SetCell[], widths: readonly number[]): string[] {
  const broken = cells.map((cell, index) => cell.lines(widths[index]!));
  const height = Math.max(1, ...broken.map((lines) => lines.length));
  return Array.from({ length: height }, (_, line) =>
    broken
      .map((lines, index) => lines[line] ?? " ".repeat(widths[index]!))
      .join(" ".repeat(gap))
      .trimEnd(),
  );
}

function asLists(columns: readonly Column[], rows: readonly (readonly Cell[])[], page: Page): string[] {
  const label = Math.max(...columns.map((column) => displayWidth(column.title)));
  const room = Math.max(1, page.width - label - gap);
  return rows.flatMap((row, index) => [
    ...(index > 0 ? [""] : []),
    ...columns.flatMap((column, place) => {
      const { text, ink } = parts(row[place] ?? "");
      return wrap(text, room).map(
        (line, number) =>
          page.style.secondary(padEnd(number === 0 ? column.title : "", label)) + " ".repeat(gap) + ink(line),
      );
    }),
  ]);
}
