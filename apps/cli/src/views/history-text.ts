import { headlineOf, type HistoryFinding, type ReadHistory } from "@earthbell/engine";
import { type NotedLines, withMargin } from "../terminal/margin.ts";
import { marked, type State } from "../terminal/marks.ts";
import type { Page } from "../terminal/page.ts";
import { printable } from "../terminal/printable.ts";
import { figure, hardSpace, quantity } from "../terminal/quantity.ts";
import { bullets, heading, paragraph } from "../terminal/section.ts";
import { percent } from "../terminal/strip.ts";
import { historyLine } from "./history-line.ts";
import { item, row } from "./row.ts";

const states: Readonly<Record<HistoryFinding["verdict"], State>> = {
  healthy: "proven",
  "moisture-driven": "fault",
  hard: "fault",
  progressive: "fault",
  intermittent: "fault",
  sensor: "unsure",
  "too-little-data": "unsure",
};

/** One array's insulation history as a page. */
export function historyText(read: ReadHistory, page: Page): string[] {
  const finding = printable(read.finding);
  const blocks: NotedLines[] = [
    { lines: heading(`Insulation history of ${finding.array}`, page) },
    ...headLines(finding, page),
    { lines: paragraph(finding.evidence, page) },
    { lines: ["", ...historyLine(read, page)] },
    { lines: [""] },
    ...levelRows(finding, page),
    ...forecastRows(finding, page),
    ...dawnRows(finding, page),
    ...doubtRows(finding, page),
    { lines: ["", ...heading("What to do", page)] },
    ...finding.advice.map(({ kind, text, source, tag }) => ({
      lines: bullets([kind === "caution" ? `Caution: ${text}` : text], page),
      note: `${source}; ${tag}`,
    })),
  ];
  return withMargin(blocks, page);
}

/** That it is below the threshold comes first; a history without trouble does not make that a good mark. */
function headLines(finding: HistoryFinding, page: Page): NotedLines[] {
  const { reached, below, pattern } = headlineOf(finding);
  const first =
    below === null
      ? []
      : [{ lines: [`  ${marked(reached === "newest" ? "fault" : "do-this", below, page)}`] }];
  const state = reached === null || finding.verdict !== "healthy" ? states[finding.verdict] : "unsure";
  return [...first, { lines: [`  ${marked(state, verdictText(finding, pattern), page)}`] }];
}

function verdictText({ verdict, probabilities }: HistoryFinding, pattern: string): string {
  if (verdict === "too-little-data") return pattern;
  const others = Object.entries(probabilities)
    .filter(([kind, share]) => kind !== verdict && share >= 0.1)
    .toSorted((a, b) => b[1] - a[1])
    .map(([kind, share]) => `${kind} ${percent(share)}`);
  const rest = others.length === 0 ? "" : `; or ${others.join(", ")}`;
  return `${pattern}, ${percent(probabilities[verdict])}${rest}`;
}

function levelRows(finding: HistoryFinding, page: Page): NotedLines[] {
  const { dryLevel, newestOhms, from, to, mornings, wetness, belowLately } = finding;
  const days =
    from === null
      ? "no reading"
      : `${from} to ${to ?? from}, ${mornings} mornings: ${wetness.wet} wet, ${wetness.dry} dry, ${wetness.unknown} not known`;
  const atLeast = dryLevel?.atLeast === true ? "at least " : "";
  return [
    row("Record", days, page),
    ...(newestOhms === null ? [] : [row("Newest", quantity(newestOhms, "resistance", 3), page)]),
    ...(dryLevel === null ? [] : [row("Dry", `${atLeast}${quantity(dryLevel.ohms, "resistance", 3)}`, page)]),
    ...limitRows(finding, page),
    ...(belowLately === null || belowLately.below === 0
      ? []
      : [row("Below it", `on ${belowLately.below} of the newest ${belowLately.mornings} mornings`, page)]),
    ...changeRows(finding, page),
  ];
}

function limitRows({ threshold, instrument }: HistoryFinding, page: Page): NotedLines[] {
  const ceiling = instrument.ceilingOhms;
  const limit = threshold ?? null;
  return [
    ...(ceiling === null
      ? []
      : [
          row(
            "Ceiling",
            `${quantity(ceiling, "resistance", 3)}; values there are that or more`,
            page,
            `instrument, ${instrument.from}`,
          ),
        ]),
    ...(limit === null
      ? []
      : [row("Threshold", quantity(limit.value, "resistance", 3), page, `${limit.source}; ${limit.tag}`)]),
  ];
}

function changeRows({ trend, changes }: HistoryFinding, page: Page): NotedLines[] {
  const slope =
    trend === null
      ? []
      : [
          row(
            "Slope",
            `${yearly(trend.decadesPerYear)} a year, ${yearly(trend.low)} to ${yearly(trend.high)}`,
            page,
            "Theil–Sen, 90 %; weeks depend on their neighbours",
          ),
        ];
  return [
    ...slope,
    ...changes.map(({ date, kind, fromOhms, toOhms }) =>
      row(
        kind === "step" ? "Step" : "Sinks",
        `${date}, ${quantity(fromOhms, "resistance", 3)} to ${quantity(toOhms, "resistance", 3)}`,
        page,
      ),
    ),
  ];
}

function yearly(decades: number): string {
  const share = 100 * (10 ** decades - 1);
  return `${share < 0 ? "" : "+"}${figure(share, 2)}${hardSpace}%`;
}

function forecastRows(finding: HistoryFinding, page: Page): NotedLines[] {
  const { forecast, to } = finding;
  if (forecast === null || to === null) return [];
  // A level that stays clear of the threshold is no word against mornings that fell below it.
  const already =
    headlineOf(finding).reached === null ? "" : "; by its slope alone: mornings were below it already";
  const rows = [
    ["Dry", forecast.dry],
    ["Wet", forecast.wet],
  ] as const;
  return rows.flatMap(([name, crossing]) => {
    if (crossing === null) return [];
    const { soonestDays, middleDays, latestDays, withinYear } = crossing;
    const text =
      soonestDays === null
        ? "not at the threshold within 5 years"
        : middleDays === 0 && latestDays === 0
          ? "at the threshold now"
          : `at the threshold ${dateText(to, middleDays)}, ${dateText(to, soonestDays)} to ${dateText(to, latestDays)}; within a year ${percent(withinYear)}`;
    return [
      row(
        `${name} then`,
        `${text}${already}`,
        page,
        name === "Wet" ? "one wet morning in ten; 90 % interval" : "90 % interval",
      ),
    ];
  });
}

function dateText(to: string, days: number | null): string {
  if (days === null) return "later than 5 years";
  return new Date(Date.parse(`${to}T00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);
}

function dawnRows({ badDawns }: HistoryFinding, page: Page): NotedLines[] {
  if (badDawns === null) return [];
  const { belowWhenWet, evenChance, likely, months } = badDawns;
  if (evenChance === null) return [row("Bad dawns", "none likely within a year", page)];
  const worst = months.toSorted((a, b) => b.expected - a.expected)[0];
  const most = worst === undefined ? "" : `; most in ${worst.month}: about ${figure(worst.expected, 2)}`;
  const text = `the next by ${evenChance} as likely as not${likely === null ? "" : `, by ${likely} very likely`}${most}`;
  return [
    row(
      "Bad dawns",
      text,
      page,
      `${percent(belowWhenWet)} of wet mornings fall below; months as they were wet before`,
    ),
  ];
}

function doubtRows({ doubts }: HistoryFinding, page: Page): NotedLines[] {
  return doubts.map(({ count, text }, index) => {
    const words = `${count} ${count === 1 ? "reading" : "readings"} ${text}`;
    return index === 0 ? row("Doubts", words, page) : item(words, page);
  });
}
