import type { Page } from "./page.ts";
import { readingText, shellLine } from "./section.ts";
import { displayWidth } from "./width.ts";
import { padEnd, wrap } from "./wrap.ts";

export interface Entry {
  readonly term: string;
  readonly text: string;
}

const leastBeside = 24;

/** Terms on the left, what they mean on the right; below each other when the page is too narrow for both. */
export function definitions(list: readonly Entry[], page: Page): string[] {
  const term = Math.max(...list.map((entry) => displayWidth(entry.term)));
  const room = page.width - term - 4;
  return list.flatMap((entry) => {
    if (room < leastBeside) return [...shellLine(entry.term, page), ...readingText(entry.text, page, 6)];
    const [first = "", ...more] = wrap(entry.text, Math.min(76, room));
    return [`  ${padEnd(entry.term, term)}  ${first}`, ...more.map((line) => " ".repeat(term + 4) + line)];
  });
}
