import type { ReadHistory } from "@earthbell/engine";
import { textWidth } from "../terminal/margin.ts";
import type { Page } from "../terminal/page.ts";
import { quantity } from "../terminal/quantity.ts";
import { padStart } from "../terminal/wrap.ts";

const bars = ["▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"];
const asciiBars = ["_", ".", ",", "-", "=", "+", "*", "#"];
const leftMargin = 12;
const mostColumns = 60;
/** Room for the words behind the bars, and for a unit that is longer in plain ASCII. */
const rightMargin = 8;

/**
 * The whole record as two lines of bars on a logarithmic scale: the highest and the lowest morning of each stretch. A gap
 * stays blank. Between the two lies the weather.
 */
export function historyLine({ mornings, finding }: ReadHistory, page: Page): string[] {
  const first = mornings[0];
  const last = mornings.at(-1);
  if (first === undefined || last === undefined) return [];
  const columns = Math.max(10, Math.min(mostColumns, textWidth(page) - leftMargin - rightMargin));
  const span = Math.max(1, last.day - first.day + 1);
  const cells: { low: number; high: number }[] = Array.from({ length: columns }, () => ({
    low: Infinity,
    high: -Infinity,
  }));
  for (const { day, lowest } of mornings) {
    const cell = cells[Math.min(columns - 1, Math.floor(((day - first.day) * columns) / span))]!;
    cell.low = Math.min(cell.low, lowest);
    cell.high = Math.max(cell.high, lowest);
  }
  const seen = cells.filter(({ high }) => high > -Infinity);
  const bottom = Math.min(...seen.map(({ low }) => low));
  const top = Math.max(bottom + 0.1, ...seen.map(({ high }) => high));
  const signs = page.ascii ? asciiBars : bars;
  const bar = (value: number): string =>
    Number.isFinite(value) ? signs[Math.min(7, Math.floor((8 * (value - bottom)) / (top - bottom)))]! : " ";
  const label = (log10Ohms: number): string =>
    padStart(quantity(10 ** log10Ohms, "resistance", 2), leftMargin - 1);
  const years = `${finding.from ?? ""}${" ".repeat(Math.max(1, columns - 20))}${finding.to ?? ""}`;
  const { style } = page;
  return [
    `${style.secondary(label(top))} ${cells.map(({ high }) => bar(high)).join("")} ${style.secondary("best")}`,
    `${style.secondary(label(bottom))} ${cells.map(({ low }) => bar(low)).join("")} ${style.secondary("worst")}`,
    style.secondary(" ".repeat(leftMargin) + years),
  ];
}
