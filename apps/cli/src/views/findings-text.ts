import type { AssessmentFinding, Severity } from "@earthbell/engine";
import { type NotedLines, textWidth } from "../terminal/margin.ts";
import { inkOf, markedPlain, type State } from "../terminal/marks.ts";
import type { Page } from "../terminal/page.ts";
import { figure, hardSpace } from "../terminal/quantity.ts";
import { wrap } from "../terminal/wrap.ts";

const stateOf: Readonly<Record<Severity, State>> = { fault: "fault", caution: "unsure", note: "note" };

/** Findings of a path or about the owner: mark and code, what was found, its figures, and the source in the margin. */
export function findingsBlocks(findings: readonly AssessmentFinding[], page: Page): NotedLines[] {
  return findings.map((finding) => findingBlock(finding, page));
}

function findingBlock(
  { code, severity, text, figures, source, tag }: AssessmentFinding,
  page: Page,
): NotedLines {
  const state = stateOf[severity];
  const width = textWidth(page) - 6;
  const lines = [
    ...headLines(state, severity, code, page),
    ...wrap(text, width).map((line) => `      ${line}`),
    ...figureLines(figures ?? {}, width).map((line) => `      ${page.style.secondary(line)}`),
  ];
  const note = [source, tag].filter((part) => part !== undefined).join("; ");
  return note === "" ? { lines } : { lines, note };
}

/** Mark and code on one line, or on two where the page is narrow. */
function headLines(state: State, severity: Severity, code: string, page: Page): string[] {
  const mark = inkOf(state, page)(markedPlain(state, severity, page));
  const oneLine = severity.length + code.length + 8 <= textWidth(page);
  const ink = page.style.secondary;
  return oneLine
    ? [`    ${mark}  ${ink(code)}`]
    : [`    ${mark}`, ...wrap(code, textWidth(page) - 6).map((line) => `      ${ink(line)}`)];
}

function figureLines(figures: Readonly<Record<string, number>>, width: number): readonly string[] {
  const { beyondHours, ...shown } = figures;
  const entries = Object.entries(shown);
  if (entries.length === 0) return [];
  return wrap(entries.map(([name, value]) => figureText(name, value, beyondHours)).join(", "), width);
}

/** The unit that the end of a figure's name stands for. */
const units: readonly (readonly [RegExp, string])[] = [
  [/Voltage/u, "V"],
  [/Current/u, "A"],
  [/Hours$/u, "h"],
  [/Minutes$/u, "min"],
  [/Days$/u, "d"],
  [/Distance$/u, "m"],
  [/^sound|^ambient|Level$/u, "dB(A)"],
  [/Watts$/u, "W"],
  [/Ohms$/u, "Ω"],
  [/PerDay$/u, "a day"],
];

/**
 * `medianNoticeHours, 3.2` → `median notice 3.2 h`; a probability is written in per cent.
 *
 * @param beyondHours  the longest time that was followed: hours at this figure are only known to be more
 */
export function figureText(name: string, value: number, beyondHours = Infinity): string {
  const words = name
    .replace(/(?:Hours|Minutes|Days|Watts|Ohms|PerDay)$/u, "")
    .replace(/^p(\d+)/u, "$1 %")
    .replace(/([a-z%])([A-Z])/gu, "$1 $2")
    .replace(/After(\d+)h$/u, "after $1 h")
    .toLowerCase();
  if (name.startsWith("unnoticed")) {
    const hours = /(\d+)([hd])$/u.exec(name);
    const after = hours ? ` after ${hours[1]!}${hardSpace}${hours[2]!}` : "";
    return `unnoticed${after} ${figure(value * 100, 3)}${hardSpace}%`;
  }
  if (name.endsWith("Hours") && value >= beyondHours)
    return `${words} more than ${figure(beyondHours / 24)}${hardSpace}days`;
  const unit = units.find(([end]) => end.test(name))?.[1];
  return `${words} ${figure(value)}${unit === undefined ? "" : hardSpace + unit}`;
}
