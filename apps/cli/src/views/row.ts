import { type NotedLines, textWidth } from "../terminal/margin.ts";
import { inkOf, markedPlain, type State } from "../terminal/marks.ts";
import type { Page } from "../terminal/page.ts";
import { padEnd, wrap } from "../terminal/wrap.ts";

const labelWidth = 11;

/** A label and a state with its mark, in the state's ink. */
export function markedRow(label: string, state: State, word: string, page: Page, note?: string): NotedLines {
  const text = markedPlain(state, word, page);
  const lines = wrap(text, textWidth(page) - labelWidth - 2).map((line, index) =>
    labelled(index === 0 ? label : "", inkOf(state, page)(line), page),
  );
  return note === undefined ? { lines } : { lines, note };
}

/** A label in secondary ink and a text beside it. */
function labelled(label: string, text: string, page: Page): string {
  return `  ${page.style.secondary(padEnd(label, labelWidth))}${text}`;
}

/** One of several texts under a label: a dash and the text hanging from it. */
export function item(text: string, page: Page, note?: string): NotedLines {
  const lines = wrap(text, textWidth(page) - labelWidth - 4).map((line, index) =>
    labelled("", (index === 0 ? "- " : "  ") + line, page),
  );
  return note === undefined ? { lines } : { lines, note };
}

/** A label, a value wrapped beside it, and where the value comes from. */
export function row(label: string, value: string, page: Page, note?: string): NotedLines {
  const lines = wrap(value, textWidth(page) - labelWidth - 2).map((line, index) =>
    labelled(index === 0 ? label : "", line, page),
  );
  return note === undefined ? { lines } : { lines, note };
}
