import type { Page } from "./page.ts";
import { hardSpace } from "./quantity.ts";
import { displayWidth } from "./width.ts";
import { padEnd, padStart, wrap } from "./wrap.ts";

/** A share that falls with time, and the moments on it that have a name. */
export interface FallingCurve {
  /** Rising hours, share from 0 to 1. */
  readonly points: readonly { readonly hours: number; readonly share: number }[];
  /** null: the moment lies beyond the axis. */
  readonly marks: readonly { readonly hours: number | null; readonly words: string }[];
}

const rows = 8;
const leftMargin = 7;
const mostColumns = 72;
const firstHour = 0.1;
const lastHour = 672;
const ticks: readonly (readonly [number, string])[] = [
  [0.1, "6 min"],
  [1, "1 h"],
  [6, "6 h"],
  [24, "1 d"],
  [72, "3 d"],
  [168, "7 d"],
  [672, "28 d"],
];
const eighths = [" ", "▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"];

/**
 * A falling share against hours on a logarithmic axis, 6 minutes to 28 days, as a filled area with its named moments
 * below.
 */
export function drawCurve({ points, marks }: FallingCurve, page: Page): string[] {
  const columns = Math.max(10, Math.min(mostColumns, page.width - leftMargin));
  const shares = Array.from({ length: columns }, (_, column) => shareAt(points, hoursAt(column, columns)));
  const area = Array.from({ length: rows }, (_, row) => {
    const line = shares.map((share) => cell(share * rows - (rows - 1 - row), page.ascii)).join("");
    return `${page.style.secondary(yLabel(row))}${line.trimEnd()}`;
  });
  const axis = (page.ascii ? "-" : "─").repeat(columns);
  return [
    ...area,
    page.style.secondary(" ".repeat(leftMargin) + axis),
    page.style.secondary(" ".repeat(leftMargin) + tickLine(columns)),
    ...marks.flatMap((mark) => markLines(mark, columns, page)),
  ].map((line) => line.trimEnd());
}

function yLabel(row: number): string {
  const text = row === 0 ? "100 %" : row === rows / 2 ? "50 %" : "";
  return padEnd(padStart(text, leftMargin - 2), leftMargin);
}

function cell(height: number, ascii: boolean): string {
  const filled = Math.min(1, Math.max(0, height));
  if (ascii) return filled >= 0.5 ? "#" : " ";
  return eighths[Math.round(filled * 8)]!;
}

function hoursAt(column: number, columns: number): number {
  return firstHour * (lastHour / firstHour) ** (column / (columns - 1));
}

/** The column of a moment, kept on the axis. */
function columnOf(hours: number, columns: number): number {
  const along = Math.log(hours / firstHour) / Math.log(lastHour / firstHour);
  return Math.min(columns - 1, Math.max(0, Math.round(along * (columns - 1))));
}

function shareAt(points: FallingCurve["points"], hours: number): number {
  const after = points.findIndex((point) => point.hours >= hours);
  if (after < 0) return points.at(-1)?.share ?? 0;
  const right = points[after]!;
  const left = points[after - 1];
  if (left === undefined) return right.share;
  const part = (hours - left.hours) / (right.hours - left.hours);
  return left.share + part * (right.share - left.share);
}

/** Names of the ticks that have room, each beginning at its tick; the last one ends at its own. */
function tickLine(columns: number): string {
  let line = "";
  for (const [hours, name] of ticks) {
    const column = Math.min(columnOf(hours, columns), columns - name.length);
    if (line === "" || column > line.length) line = padEnd(line, column) + name;
  }
  return line;
}

/** An arrow under the moment with its words beside it, on the side where they fit. */
function markLines(
  { hours, words }: FallingCurve["marks"][number],
  columns: number,
  page: Page,
): readonly string[] {
  const indent = " ".repeat(leftMargin);
  const text = words.replaceAll(" ", hardSpace);
  const wide = displayWidth(text) + 2;
  if (hours === null || wide > columns) return wrap(words, columns).map((line) => indent + line);
  const arrow = page.ascii ? "^" : "↑";
  const column = columnOf(hours, columns);
  if (column + wide <= columns) return [`${indent}${" ".repeat(column)}${arrow} ${text}`];
  if (column >= wide - 1) return [`${indent}${" ".repeat(column - wide + 1)}${text} ${arrow}`];
  return wrap(words, columns).map((line) => indent + line);
}
