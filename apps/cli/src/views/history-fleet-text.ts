import type { FleetFinding } from "@earthbell/engine";
import { textWidth } from "../terminal/margin.ts";
import type { Page } from "../terminal/page.ts";
import { printable } from "../terminal/printable.ts";
import { heading, indented, narrower, paragraph } from "../terminal/section.ts";
import { percent } from "../terminal/strip.ts";
import { table } from "../terminal/table.ts";

const mostRows = 20;

/** A fleet as a page: where to go first, and what arrays that drift have in common. */
export function fleetHistoryText(unsafe: FleetFinding, page: Page): string[] {
  const fleet = printable(unsafe);
  const room = narrower({ ...page, width: textWidth(page) });
  return [
    ...heading("Insulation of the fleet", page),
    ...paragraph(`${fleet.arrays} arrays, ${fleet.judged} with enough data; ${fleet.drifting} drift.`, page),
    "",
    ...heading("Where to go first", page),
    ...indented(rankingTable(fleet, room)),
    "",
    ...heading("What those that drift have in common", page),
    ...(fleet.groups.length === 0 ? paragraph(nothingKnown, page) : indented(groupTable(fleet, room))),
    ...paragraph(fleet.note, page).map(page.style.secondary),
  ];
}

const nothingKnown =
  "Nothing is known of what the arrays are. Give a table with --about FILE: array, and any of site, module, connector, installer, batch, place, consequence.";

function rankingTable({ ranking }: FleetFinding, page: Page): string[] {
  const columns = [
    { title: "array", align: "left", flexible: true },
    { title: "history", align: "left", flexible: true },
    { title: "in a year", align: "right" },
    { title: "weight", align: "decimal" },
    { title: "why", align: "left", flexible: true },
  ] as const;
  const rows = ranking
    .slice(0, mostRows)
    .map(({ array, headline: { reached, pattern }, withinYear, weight, reason }) => [
      array,
      pattern,
      reached !== null ? "reached" : withinYear === null ? "not known" : percent(withinYear),
      weight.toFixed(2),
      reason,
    ]);
  return table(columns, rows, page);
}

function groupTable({ groups }: FleetFinding, page: Page): string[] {
  const columns = [
    { title: "what", align: "left" },
    { title: "which", align: "left", flexible: true },
    { title: "drift", align: "left" },
    { title: "share, 90 %", align: "left" },
    { title: "p, adjusted", align: "decimal" },
    { title: "", align: "left" },
  ] as const;
  const rows = groups
    .slice(0, mostRows)
    .map(({ trait, name, drifting, arrays, low, high, adjustedP, standsOut }) => [
      trait,
      name,
      `${drifting} of ${arrays}`,
      `${percent(low)} to ${percent(high)}`,
      adjustedP.toFixed(3),
      standsOut ? "stands out" : "",
    ]);
  return table(columns, rows, page);
}
