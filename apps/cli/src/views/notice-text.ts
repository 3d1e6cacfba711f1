import type { NoticeReport, Site } from "@earthbell/engine";
import { drawCurve } from "../terminal/curve.ts";
import { type NotedLines, textWidth, withMargin } from "../terminal/margin.ts";
import { marked } from "../terminal/marks.ts";
import type { Page } from "../terminal/page.ts";
import { printable } from "../terminal/printable.ts";
import { figure, hardSpace } from "../terminal/quantity.ts";
import { bullets, heading, indented, narrower, paragraph } from "../terminal/section.ts";
import { percent } from "../terminal/strip.ts";
import { table } from "../terminal/table.ts";
import { row } from "./row.ts";
import { siteTitle } from "./site-title.ts";

type Answer = NoticeReport["answers"][number];

const causes: Readonly<Record<NonNullable<Answer["biggestCause"]>["cause"], string>> = {
  detection: "waiting for the detector to look",
  link: "the link being down",
  hours: "the hours in which nobody looks",
  absence: "people being away",
  attention: "people who are there and do not look",
  "never heeded": "signals that are never heeded",
  "empty site": "the site being empty",
};

/** Time to notice as a page: path by path and together, what delays and what would shorten it, what was assumed. */
export function noticeText(
  unsafe: { readonly report: NoticeReport; readonly site: Site },
  page: Page,
): string[] {
  const { report, site } = printable(unsafe);
  const day = report.onDate === null ? "a year of onsets" : `a year of onsets from ${report.onDate}`;
  const blocks: NotedLines[] = [
    { lines: siteTitle(site, `time to notice, ${day}`, page) },
    ...(report.answers.length === 0 ? [{ lines: ["", ...paragraph(noPath, page)] }] : []),
    ...report.answers.flatMap((answer) => answerSection(answer, report, page)),
    { lines: curveSection(report, page) },
    { lines: changesSection(report, page) },
    ...assumedSection(report, page),
  ];
  return withMargin(blocks, page);
}

const noPath =
  "The site file names no path: nobody is told, and a fault stays unnoticed until somebody looks.";

/** `12.5 h`, `5.3 days`, or that it is beyond what was followed. */
export function timeText(hours: number | null, followedDays: number): string {
  if (hours === null) return `more than ${figure(followedDays)}${hardSpace}days`;
  if (hours < 48) return `${figure(hours, 3)}${hardSpace}h`;
  return `${figure(hours / 24, 3)}${hardSpace}days`;
}

/** `known within 12.3 h`, or `not known within 28 days`. */
function knownText(hours: number | null, followedDays: number): string {
  return hours === null
    ? `not known within ${figure(followedDays)}${hardSpace}days`
    : `known within ${timeText(hours, followedDays)}`;
}

function gainText(hours: number): string {
  return hours < 1 ? `${figure(hours * 60, 2)}${hardSpace}min` : `${figure(hours, 3)}${hardSpace}h`;
}

/** `P1, P2 and P3`. */
function together(paths: readonly string[]): string {
  return `${paths.slice(0, -1).join(", ")} and ${paths.at(-1)!}`;
}

function answerSection(
  answer: Answer,
  { followedDays, notPerceived }: NoticeReport,
  page: Page,
): NotedLines[] {
  const { paths, medianHours, p95Hours, unnoticedAfter24h, unnoticedAfter7d, biggestCause } = answer;
  const title = paths.length === 1 ? `Path ${paths[0]!}` : `${together(paths)} together`;
  if (paths.length === 1 && notPerceived.includes(paths[0]!)) {
    const found = `  ${marked("fault", "found to reach nobody", page)}`;
    return [{ lines: ["", ...heading(title, page), found] }, row("Why", "see earthbell assess", page)];
  }
  const unnoticed = `${percent(unnoticedAfter24h)} after 24${hardSpace}h, ${percent(unnoticedAfter7d)} after 7${hardSpace}days`;
  const delay =
    biggestCause === null
      ? "no single cause; see the path in earthbell assess"
      : `mostly ${causes[biggestCause.cause]}: ${figure(biggestCause.hours, 3)}${hardSpace}h on average`;
  return [
    { lines: ["", ...heading(title, page)] },
    row("Half", knownText(medianHours, followedDays), page),
    row("95 %", knownText(p95Hours, followedDays), page),
    row("Unnoticed", unnoticed, page),
    row("Delay", delay, page),
  ];
}

function curveSection({ answers, followedDays }: NoticeReport, page: Page): string[] {
  const all = answers.at(-1);
  if (all === undefined) return [];
  const marks = [
    { hours: all.medianHours, words: `half ${knownText(all.medianHours, followedDays)}` },
    { hours: all.p95Hours, words: `95 % ${knownText(all.p95Hours, followedDays)}` },
  ];
  const points = all.curve.map(({ hours, unnoticed }) => ({ hours, share: unnoticed }));
  const by = all.paths.length === 1 ? `by ${all.paths[0]!}` : "all paths together";
  const room = { ...page, width: textWidth(page) - 2 };
  return ["", ...heading(`Not yet noticed, ${by}`, page), ...indented(drawCurve({ points, marks }, room))];
}

function changesSection({ changes, followedDays, answers }: NoticeReport, page: Page): string[] {
  if (answers.length === 0) return [];
  const head = ["", ...heading("Single changes, the one that gains most first", page)];
  if (changes.length === 0) return [...head, ...paragraph("None of those tried gains a minute.", page)];
  const columns = [
    { title: "gains", align: "decimal" },
    { title: "change", align: "left", flexible: true },
    { title: "95 % then", align: "left" },
  ] as const;
  const rows = changes.map(({ gainedHours, text, p95HoursAfter }) => [
    gainText(gainedHours),
    text,
    timeText(p95HoursAfter, followedDays),
  ]);
  const note =
    "Mean hours gained, all paths together; the gains of two changes do not add up, and each fault counts for at most 28 days.";
  const room = narrower({ ...page, width: textWidth(page) });
  return [
    ...head,
    ...indented(table(columns, rows, room)),
    ...paragraph(note, page).map(page.style.secondary),
  ];
}

function assumedSection({ assumed }: NoticeReport, page: Page): NotedLines[] {
  return [
    { lines: ["", ...heading("Assumed, because the site file does not say it", page)] },
    ...bySource(assumed).map(({ texts, note }) => ({
      lines: bullets(texts, page),
      note: texts.length === 1 ? note : `all ${String(texts.length)}: ${note}`,
    })),
  ];
}

interface OfOneSource {
  readonly note: string;
  readonly texts: string[];
}

/** What comes from one source together, so that the source is read once. */
function bySource(assumed: NoticeReport["assumed"]): readonly OfOneSource[] {
  const groups = new Map<string, OfOneSource>();
  for (const { text, source, tag } of assumed) {
    const note = `${source}; ${tag}`;
    const group = groups.get(note) ?? { note, texts: [] };
    group.texts.push(text);
    groups.set(note, group);
  }
  return [...groups.values()];
}
