import type { Page } from "../terminal/page.ts";
import { withoutControls } from "../terminal/printable.ts";
import { wrap } from "../terminal/wrap.ts";
import type { UsageFault } from "./usage-fault.ts";

/** What is wrong with a command line, and what to type instead. */
export function usageText(faults: readonly UsageFault[], helpLine: string, page: Page): string[] {
  return [
    ...faults.flatMap((fault) => [
      ...wrap(`${withoutControls(fault.message)} (${fault.code})`, page.width),
      ...suggestionLines(fault, page),
    ]),
    `For help: ${helpLine}`,
  ];
}

function suggestionLines({ suggestions, lead }: UsageFault, page: Page): string[] {
  if (suggestions.length === 0) return [];
  const list = suggestions.map(withoutControls);
  const texts = {
    near: `Did you mean ${list.join(" or ")}?`,
    all: `Known here: ${list.join(", ")}`,
    example: `For example: ${list.join(", ")}`,
    next: list.join(" "),
  };
  return wrap(texts[lead], page.width - 2).map((line) => `  ${line}`);
}
