import type { Entry } from "../catalogue/entry.ts";
import type { Page } from "../terminal/page.ts";
import { heading } from "../terminal/section.ts";
import { withMargin } from "../terminal/margin.ts";
import { table } from "../terminal/table.ts";
import { row } from "./row.ts";

/** One code, explained. */
export function entryText(entry: Entry, page: Page): string[] {
  return withMargin(
    [
      { lines: heading(entry.code, page) },
      row("What", entry.title, page, entry.from),
      ...(entry.severity === undefined ? [] : [row("Weight", entry.severity, page)]),
      row("Means", entry.meaning, page),
      ...(entry.causes ?? []).map((cause, index) => row(index === 0 ? "Often" : "", cause, page)),
      row("Do", entry.next, page),
    ],
    page,
  );
}

/** Every code with its title, group by group. */
export function catalogueText(entries: readonly Entry[], page: Page): string[] {
  const groups = [...new Set(entries.map((entry) => entry.group))];
  return groups.flatMap((group, index) => [
    ...(index > 0 ? [""] : []),
    page.style.strong(`About ${group}`),
    ...table(
      [
        { title: "Code", align: "left", flexible: true },
        { title: "Meaning", align: "left", flexible: true },
      ],
      entries.filter((entry) => entry.group === group).map((entry) => [entry.code, entry.title]),
      page,
    ),
  ]);
}
