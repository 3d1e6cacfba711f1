import { type NotedLines, textWidth } from "../terminal/margin.ts";
import type { Page } from "../terminal/page.ts";
import { padEnd, wrap } from "../terminal/wrap.ts";

const labelWidth = 11;

/** A label in secondary ink and a text beside it. */
export function labelled(label: string, text: string, page: Page): string {
  return `  ${page.style.secondary(padEnd(label, labelWidth))}${text}`;
}

/** A label, a value wrapped beside it, and where the value comes from. */
export function row(label: string, value: string, page: Page, note?: string): NotedLines {
  const lines = wrap(value, textWidth(page) - labelWidth - 2).map((line, index) =>
    labelled(index === 0 ? label : "", line, page),
  );
  return note === undefined ? { lines } : { lines, note };
}
