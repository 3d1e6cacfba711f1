import {
  type AlarmNeeds,
  type Condition,
  type DutyRow,
  isOverridden,
  overridableValues,
  type Provenance,
  type RulePack,
  type Window,
} from "@earthbell/engine";
import { type NotedLines, textWidth, withMargin } from "../terminal/margin.ts";
import { marked } from "../terminal/marks.ts";
import type { Page } from "../terminal/page.ts";
import { printable } from "../terminal/printable.ts";
import { figure, hardSpace } from "../terminal/quantity.ts";
import { heading, paragraph } from "../terminal/section.ts";
import { wrap } from "../terminal/wrap.ts";
import { item, row } from "./row.ts";
import { limitRows } from "./rule-pack-limits.ts";

/** Rule packs as a list: what they are, where they bind and since when. */
export function rulePackList(unsafe: readonly RulePack[], page: Page): string[] {
  return printable(unsafe).flatMap((pack) => {
    const when = pack.selectedBy === "name" ? "when a site file names it" : pack.inForce.map(span).join(", ");
    return [
      page.style.strong(pack.id),
      ...paragraph(pack.title, page),
      ...paragraph(`${placesOf(pack)}; ${when}`, page),
      ...overriddenCount(pack, page),
    ];
  });
}

function overriddenCount(pack: RulePack, page: Page): string[] {
  const count = overridableValues(pack).filter(isOverridden).length;
  if (count === 0) return [];
  const text = `${count === 1 ? "One value is" : `${count} values are`} overridden: earthbell rules ${pack.id}`;
  return paragraph(marked("unsure", text, page), page);
}

/** One rule pack with every value, its source and its tag. */
export function rulePackText(unsafe: RulePack, page: Page): string[] {
  const pack = printable(unsafe);
  const section = (title: string, rows: readonly NotedLines[]): NotedLines[] =>
    rows.length === 0 ? [] : [{ lines: ["", ...heading(title, page)] }, ...rows];
  return withMargin(
    [
      { lines: wrap(pack.title, textWidth(page)).map(page.style.strong) },
      row("id", pack.id, page),
      row("edition", pack.edition, page),
      row("where", placesOf(pack), page),
      row("chosen", choiceText(pack), page),
      ...section(
        "In force",
        pack.inForce.map((window) => windowRow(window, page)),
      ),
      ...section("Duty: the first row whose conditions all hold decides", dutyRows(pack.duty, page)),
      ...section("What the alarm must do", needRows(pack.alarm, page)),
      ...limitRows(pack, page, section),
      ...section(
        "Notes",
        (pack.notes ?? []).map((note) => item(note.text, page, from(note))),
      ),
    ],
    page,
  );
}

function choiceText({ selectedBy }: RulePack): string {
  return selectedBy === "date"
    ? "by the day of the work; see below"
    : "by the authority's adoption: a site file must name it (site.place.rules.pack)";
}

function placesOf({ jurisdictions }: RulePack): string {
  const places = jurisdictions.map(({ country, regions }) =>
    regions === undefined ? country : regions.map((region) => `${country}-${region}`).join(", "),
  );
  return places.join(", ") || "any place";
}

function span({ from: first, until }: Window): string {
  if (first === undefined) return until === undefined ? "always" : `until ${until}`;
  return until === undefined ? `from ${first}` : `${first} to ${until}`;
}

function windowRow(window: Window, page: Page): NotedLines {
  const day = window.basis === "work-done" ? "work done" : "work begun";
  const published =
    window.publishedFor === undefined ? "" : `; dates published for ${window.publishedFor.join(", ")} only`;
  const choice = window.binding === "choice" ? "one may choose it, as a whole" : "binding";
  return item(`${day} ${span(window)}: ${choice}${published}`, page, from(window));
}

function dutyRows(rows: readonly DutyRow[], page: Page): NotedLines[] {
  return rows.flatMap((duty) => [
    item(
      `${duty.id}: alarm ${duty.alarm.replace("-", " ")} when ${duty.when.map(conditionText).join(" and ") || "nothing above fits"}`,
      page,
      from(duty),
    ),
    item(duty.text, page),
  ]);
}

/** A condition of a duty row in words. */
function conditionText(condition: Condition): string {
  switch (condition.fact) {
    case "max-voltage":
      return `the highest voltage is ${bounds(condition, "V")}`;
    case "power-kilowatts":
      return `the power is ${bounds(condition, "kW")}`;
    case "parallel-strings":
      return `the strings in parallel number ${bounds(condition, "")}`;
    case "date":
      return `the work falls ${spanWords(condition)}`;
    default:
      return `${condition.fact} is ${condition.is.join(" or ")}`;
  }
}

function spanWords({ from: first, until }: { readonly from?: string; readonly until?: string }): string {
  const parts = [
    first === undefined ? undefined : `on or after ${first}`,
    until === undefined ? undefined : `on or before ${until}`,
  ];
  return parts.filter((part) => part !== undefined).join(" and ") || "on any day";
}

function bounds(
  { above, atMost }: { readonly above?: number; readonly atMost?: number },
  unit: string,
): string {
  const value = (number: number): string => figure(number, 6) + (unit === "" ? "" : hardSpace + unit);
  const parts = [
    above === undefined ? undefined : `above ${value(above)}`,
    atMost === undefined ? undefined : `at most ${value(atMost)}`,
  ];
  return parts.filter((part) => part !== undefined).join(" and ") || "anything";
}

function needRows(needs: AlarmNeeds | undefined, page: Page): NotedLines[] {
  if (!needs) return [];
  const named: readonly (readonly [
    string,
    ({ readonly value: unknown } & Provenance) | undefined,
    string,
  ])[] = [
    ["signals", needs.signals, needs.signals.value.join(", ")],
    ["noticed", needs.perceived, needs.perceived?.value ?? ""],
    ["repeats", needs.repeatEveryMinutes, `at least every ${needs.repeatEveryMinutes?.value ?? ""} min`],
    ["until", needs.until, needs.until?.value.join(" or ") ?? ""],
    ["owner", needs.ownerInstructions, "is given written instructions"],
    ["checks", needs.checkEveryHours, `insulation at least every ${needs.checkEveryHours?.value ?? ""} h`],
  ];
  return named.flatMap(([label, need, text]) =>
    need === undefined || need.value === false ? [] : [row(label, text, page, from(need))],
  );
}

function from({ source, tag }: Provenance): string {
  return `${source}; ${tag}`;
}
