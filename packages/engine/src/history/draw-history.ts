import { changeMarks } from "./draw-changes.ts";
import { type Drawing, line, mark, type Mark, round, stroked, words } from "../drawings/drawing.ts";
import { type Headline, headlineOf } from "./headline.ts";
import { historyTable } from "./history-table.ts";
import { dateOfDay } from "./local-day.ts";
import { evidenceOhms } from "./ohms-text.ts";
import type { ReadHistory } from "./read-history.ts";

const LEFT = 58;
const RIGHT = 16;
const TOP = 46;
const PLOT = 260;
/** Marks beyond this number would cover each other: only every so many mornings are drawn, the lowest of each group. */
const MOST_MARKS = 700;

interface Axes {
  readonly width: number;
  readonly first: number;
  readonly last: number;
  readonly low: number;
  readonly high: number;
  readonly x: (day: number) => number;
  readonly y: (log10Ohms: number) => number;
}

function axesOf({ mornings, finding }: ReadHistory, width: number): Axes {
  const first = mornings[0]?.day ?? 0;
  const newest = mornings.at(-1)?.day ?? first + 1;
  const ahead = finding.forecast === null ? 0 : Math.min(730, Math.max(60, (newest - first) / 2));
  const last = Math.max(first + 1, newest + ahead);
  const values = mornings.map(({ lowest }) => lowest);
  const threshold = finding.threshold?.value;
  if (threshold !== undefined) values.push(Math.log10(threshold));
  const seen = values.reduce((a, b) => Math.min(a, b), 9);
  // The forecast may lead the axis a decade further down.
  for (const { daysAhead, middle } of finding.forecast?.fan ?? [])
    if (newest + daysAhead <= last) values.push(Math.max(seen - 1, middle));
  const low = Math.floor(values.reduce((a, b) => Math.min(a, b), 9) - 0.1);
  const high = Math.ceil(values.reduce((a, b) => Math.max(a, b), low + 1) + 0.1);
  return {
    width,
    first,
    last,
    low,
    high,
    x: (day) => LEFT + ((width - LEFT - RIGHT) * (day - first)) / (last - first),
    y: (value) => TOP + (PLOT * (high - Math.min(high, Math.max(low, value)))) / (high - low),
  };
}

function grid({ first, last, low, high, x, y, width }: Axes): Mark[] {
  const decades = Array.from({ length: high - low + 1 }, (_, i) => low + i);
  const years = Array.from(
    { length: Number(dateOfDay(last).slice(0, 4)) - Number(dateOfDay(first).slice(0, 4)) },
    (_, i) => {
      const year = Number(dateOfDay(first).slice(0, 4)) + 1 + i;
      return { year, day: Date.UTC(year, 0, 1) / 86_400_000 };
    },
  );
  return [
    ...decades.flatMap((decade) => [
      line(LEFT, y(decade), width - RIGHT, y(decade), stroked("hair", 1)),
      words(LEFT - 6, y(decade) + 4, evidenceOhms(decade), { anchor: "end", ink: "soft", size: 11 }),
    ]),
    ...years.flatMap(({ year, day }) => [
      line(x(day), TOP, x(day), TOP + PLOT + 5, stroked("hair", 1)),
      words(x(day) + 3, TOP + PLOT + 16, String(year), { ink: "soft", size: 11 }),
    ]),
    ...(years[0] !== undefined && x(years[0].day) < LEFT + 70
      ? []
      : [words(LEFT, TOP + PLOT + 16, dateOfDay(first), { ink: "soft", size: 11 })]),
  ];
}

/** The threshold as a ruled band that reaches down to the edge. */
function thresholdBand({ finding }: ReadHistory, { y, width, low }: Axes): Mark[] {
  const ohms = finding.threshold?.value;
  if (ohms === undefined) return [];
  const top = y(Math.log10(ohms));
  const rules: Mark[] = [];
  for (let at = top + 6; at < y(low); at += 6)
    rules.push(line(LEFT, at, width - RIGHT, at, stroked("hair", 1)));
  return [
    ...rules,
    line(LEFT, top, width - RIGHT, top, stroked("ink", 2)),
    words(width - RIGHT, top + 14, `alarm below ${evidenceOhms(Math.log10(ohms))}`, {
      anchor: "end",
      size: 11,
    }),
  ];
}

/** Wet mornings as filled drops, dry ones as open circles, unknown ones as dots, censored ones as carets. */
function morningMark(morning: ReadHistory["mornings"][number], { x, y }: Axes): Mark {
  const [cx, cy] = [round(x(morning.day)), round(y(morning.lowest))];
  if (morning.bound !== "measured") {
    const up = morning.bound === "at-least" ? -1 : 1;
    return mark("path", {
      d: `M${cx - 3} ${round(cy - 3 * up)}L${cx} ${cy}L${cx + 3} ${round(cy - 3 * up)}`,
      ...stroked("ink", 1),
    });
  }
  switch (morning.wetness) {
    case "wet":
      return mark("path", {
        d: `M${cx} ${round(cy - 4.5)}c1.5 2.5 2.8 3.6 2.8 5.2a2.8 2.8 0 0 1-5.6 0c0-1.6 1.3-2.7 2.8-5.2z`,
        class: "copper-fill",
        fill: "#9a4a1f",
      });
    case "dry":
      return mark("circle", { cx, cy, r: 2.4, ...stroked("ink", 1) });
    case "unknown":
      return mark("circle", { cx, cy, r: 1.3, class: "soft-fill", fill: "#5d6560" });
  }
}

function morningMarks({ mornings }: ReadHistory, axes: Axes): Mark[] {
  const group = Math.max(1, Math.ceil(mornings.length / MOST_MARKS));
  const marks: Mark[] = [];
  for (let i = 0; i < mornings.length; i += group) {
    const some = mornings.slice(i, i + group);
    marks.push(
      morningMark(
        some.reduce((a, b) => (b.lowest < a.lowest ? b : a)),
        axes,
      ),
    );
  }
  return marks;
}

/** The forecast as a hatch that widens: a line at every other point of the fan, and its middle. */
function fanMarks({ finding, mornings }: ReadHistory, { x, y, last, low: bottom }: Axes): Mark[] {
  const newest = mornings.at(-1)?.day;
  if (finding.forecast === null || newest === undefined) return [];
  const points = finding.forecast.fan.filter(
    ({ daysAhead, middle }) => newest + daysAhead <= last && middle >= bottom,
  );
  const path = points
    .map(({ daysAhead, middle }) => `${round(x(newest + daysAhead))} ${round(y(middle))}`)
    .join("L");
  return [
    ...points.map(({ daysAhead, low, high }) =>
      line(x(newest + daysAhead), y(low), x(newest + daysAhead), y(high), stroked("soft", 1)),
    ),
    ...(points.length < 2
      ? []
      : [mark("path", { d: `M${path}`, ...stroked("ink", 1.4), "stroke-dasharray": "2 4" })]),
  ];
}

function levelLine({ level }: ReadHistory, { x, y }: Axes): Mark[] {
  if (level.weeks.length < 2) return [];
  const path = level.weeks.map(({ day, value }) => `${round(x(day))} ${round(y(value))}`).join("L");
  return [mark("path", { d: `M${path}`, ...stroked("soft", 1) })];
}

const LEGEND = [
  ["wet", "measured", "wet morning"],
  ["dry", "measured", "dry"],
  ["unknown", "measured", "not known"],
  ["dry", "at-least", "that or more"],
] as const;
/** Width of a character of the widest face that drawings are set in, as a share of its size. */
const CHARACTER = 0.55;
const LEGEND_SIZE = 11;
const SAMPLE = 12;
const MOST_GAP = 60;

/** What each shape of a morning means, side by side as far as their words reach. */
function legend({ width }: Axes): Mark[] {
  const y = TOP + PLOT + 36;
  const sample = (at: number, wetness: "wet" | "dry" | "unknown", bound: "measured" | "at-least"): Mark =>
    morningMark(
      { day: at, lowest: 0, wetness, bound } as ReadHistory["mornings"][number],
      { x: (day: number) => day, y: () => y - 4 } as unknown as Axes,
    );
  const widths = LEGEND.map(([, , text]) => SAMPLE + text.length * LEGEND_SIZE * CHARACTER);
  const free = width - LEFT - RIGHT - widths.reduce((sum, one) => sum + one, 0);
  const gap = Math.max(0, Math.min(MOST_GAP, free / (LEGEND.length - 1)));
  const starts = widths.map((_, i) => LEFT + widths.slice(0, i).reduce((sum, one) => sum + one + gap, 0));
  return [
    ...LEGEND.flatMap(([wetness, bound, text], i) => [
      sample(starts[i]! + 4, wetness, bound),
      words(starts[i]! + SAMPLE, y, text, { size: LEGEND_SIZE }),
    ]),
    words(LEFT, y + 18, "grey line: dry level; hatch: forecast, 90 %", { ink: "soft", size: LEGEND_SIZE }),
  ];
}

/** Title and the line under it; a narrow drawing leaves the pattern to the sentence beside it. */
function heads({ width }: Axes, array: string, title: string, reached: Headline["reached"]): Mark[] {
  const plain = `Insulation of ${array} each morning`;
  const from = width < NARROW ? 4 : LEFT;
  const fits = from + title.length * 13 * BOLD_CHARACTER <= width;
  return [
    words(from, 20, fits ? title : plain, { size: 13, bold: true }),
    reached === "newest"
      ? words(from, 36, "below the threshold on its newest morning: an alarm", { size: 11, bold: true })
      : words(from, 36, "lowest reading of each morning", { ink: "soft", size: 11 }),
  ];
}
const NARROW = 480;
const BOLD_CHARACTER = 0.62;

/** An insulation history: every morning on a logarithmic axis, wet and dry by shape, the threshold, changes, the forecast. */
export function drawHistory(read: ReadHistory, width = 860): Drawing {
  const { finding } = read;
  const { reached, below, pattern } = headlineOf(finding);
  const axes = axesOf(read, Math.max(360, Math.round(width)));
  const title = `Insulation of ${finding.array} each morning: ${pattern}`;
  return {
    width: axes.width,
    height: TOP + PLOT + 64,
    title,
    marks: [
      mark(
        "desc",
        {},
        `${below === null ? "" : `${below} `}${finding.from ?? "no date"} to ${finding.to ?? "no date"}. ${finding.evidence}`,
      ),
      ...heads(axes, finding.array, title, reached),
      ...grid(axes),
      ...thresholdBand(read, axes),
      ...fanMarks(read, axes),
      ...levelLine(read, axes),
      ...morningMarks(read, axes),
      ...changeMarks(finding.changes, { ...axes, top: TOP, foot: TOP + PLOT, edge: axes.width - RIGHT }),
      ...legend(axes),
    ],
    table: historyTable(read),
  };
}
