import { type DelayCause, drawNoticeCurve, type NoticeReport, svgText } from "@earthbell/engine";
import type { Block } from "../../content/paper.ts";
import { laterWords, percent, quantityWords } from "../../content/quantity-words.ts";
import { assumedTable } from "./coverage-section.ts";
import { tableWords } from "../../content/table-words.ts";

/** Curves that one drawing still tells apart. */
const MOST_CURVES = 4;

const CAUSES: Readonly<Record<DelayCause, string>> = {
  detection: "waiting for the detector to look",
  link: "the link being down",
  hours: "the hours in which nobody looks",
  absence: "people being away",
  attention: "people who are there and do not look",
  "never heeded": "signals that are never heeded",
  "empty site": "the site being empty",
};

/** How long a fault stays unnoticed, by each path and by all together. */
export function noticeSection(report: NoticeReport): readonly Block[] {
  const { answers, causes, changes, assumed, notPerceived } = report;
  const head: Block = { kind: "heading", level: 1, text: "Time until somebody knows" };
  if (answers.length === 0)
    return [head, { kind: "paragraph", text: "No path is stated, so nobody is told of a fault." }];
  // The last answer is that of all paths together; it is drawn heaviest.
  const drawn = [...answers].reverse().slice(0, MOST_CURVES);
  const drawing = drawNoticeCurve({
    title: "Faults that nobody knows of yet",
    answers: drawn.map(({ paths, ...figures }) => ({
      name: paths.join(" + "),
      answer: { channels: paths, ...figures },
    })),
    width: 700,
  });
  return [
    head,
    {
      kind: "drawing",
      svg: svgText(drawing),
      alt: tableWords(drawing.table),
      caption:
        "Share of faults that nobody knows of, over the hours since they were born. Computed over a year.",
      width: 1,
    },
    pathsTable(report),
    ...(notPerceived.length === 0
      ? []
      : [
          {
            kind: "paragraph",
            text: `Taken as never perceived, because its signal falls short: ${notPerceived.join(", ")}.`,
          } as const,
        ]),
    ...ranked(
      "What delays the news",
      causes.map(({ hours, cause }) => [CAUSES[cause], hours] as const),
    ),
    ...ranked(
      "What would shorten it",
      changes.map(({ gainedHours, text }) => [text, gainedHours] as const),
    ),
    assumedTable(assumed),
  ];
}

function pathsTable({ answers, followedDays }: NoticeReport): Block {
  return {
    kind: "table",
    caption: "By paths; computed",
    columns: [
      { head: "Paths", share: 0.2 },
      { head: "Half are known within", share: 0.2, right: true },
      { head: "95 % within", share: 0.2, right: true },
      { head: "Unknown after 24 h", share: 0.2, right: true },
      { head: "After 7 d", share: 0.2, right: true },
    ],
    rows: answers.map(({ paths, medianHours, p95Hours, unnoticedAfter24h, unnoticedAfter7d }) => [
      paths.join(" + "),
      laterWords(medianHours, followedDays),
      laterWords(p95Hours, followedDays),
      percent(unnoticedAfter24h),
      percent(unnoticedAfter7d),
    ]),
  };
}

function ranked(caption: string, rows: readonly (readonly [string, number])[]): readonly Block[] {
  const telling = rows.filter(([, hours]) => hours > 0.05).slice(0, 8);
  if (telling.length === 0) return [];
  return [
    {
      kind: "table",
      caption: `${caption}; mean time, computed`,
      columns: [
        { head: caption, share: 0.78 },
        { head: "Mean", share: 0.22, right: true },
      ],
      rows: telling.map(([what, hours]) => [what, quantityWords(hours * 60, "duration", 3)]),
    },
  ];
}
