import { textWidth } from "./margin.ts";
import type { Page } from "./page.ts";
import { wrap } from "./wrap.ts";

/** A heading over a hairline as wide as the reading column. */
export function heading(title: string, page: Page): string[] {
  const line = (page.ascii ? "-" : "─").repeat(Math.min(72, textWidth(page)));
  return [...wrap(title, textWidth(page)).map(page.style.strong), page.style.secondary(line)];
}

/** A line to type: broken, where it must be, so that it still works when copied. */
export function shellLine(line: string, page: Page): string[] {
  const parts = wrap(line, page.width - 6);
  return parts.map(
    (part, index) => `${index === 0 ? "  " : "    "}${part}${index < parts.length - 1 ? " \\" : ""}`,
  );
}

/** Items with a dash, wrapped and hanging. */
export function bullets(items: readonly string[], page: Page): string[] {
  return items.flatMap((item) =>
    wrap(item, textWidth(page) - 4).map((line, index) => (index === 0 ? "  - " : "    ") + line),
  );
}

/** A heading with its items below, or nothing when there are none. */
export function bulletSection(title: string, items: readonly string[], page: Page): string[] {
  if (items.length === 0) return [];
  return ["", ...heading(title, page), ...bullets(items, page)];
}

/** A text wrapped to the reading column, two columns in. */
export function paragraph(text: string, page: Page): string[] {
  return wrap(text, textWidth(page) - 2).map((line) => `  ${line}`);
}

/** A text wrapped to a comfortable line for reading, or to the page when that is narrower. */
export function readingText(text: string, page: Page, indent = 0): string[] {
  return wrap(text, Math.min(76, page.width) - indent).map((line) => " ".repeat(indent) + line);
}

/** A page two columns narrower, for what will be indented. */
export function narrower(page: Page): Page {
  return { ...page, width: page.width - 2 };
}

export function indented(lines: readonly string[]): string[] {
  return lines.map((line) => (line === "" ? line : `  ${line}`));
}
