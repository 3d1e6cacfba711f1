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

function suggestionLines({ suggestions, near }: UsageFault, page: Page): string[] {
  if (suggestions.length === 0) return [];
  const lead = near ? "Did you mean" : "Known here:";
  const list = suggestions.map(withoutControls);
  const text = near ? `${lead} ${list.join(" or ")} ?` : `${lead} ${list.join(", ")}`;
  return wrap(text.replace(" ?", "?"), page.width - 2).map((line) => `  ${line}`);
}
