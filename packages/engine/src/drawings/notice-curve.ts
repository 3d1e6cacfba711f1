import type { NoticeAnswer } from "../notice/index.ts";
import { type Drawing, line, mark, type Mark, round, stroked, words } from "./drawing.ts";

export interface NoticeCurveInput {
  readonly title: string;
  /** At most four, each with its name; the first is drawn heaviest. */
  readonly answers: readonly { readonly name: string; readonly answer: NoticeAnswer }[];
  readonly width: number;
}

const LEFT = 44;
const RIGHT = 12;
/** Room above the plot for the heading and, on a narrow drawing, for two labels. */
const TOP = 52;
const PLOT = 190;
const FROM_HOURS = 0.1;
const TO_HOURS = 672;
const TICKS: readonly (readonly [number, string])[] = [
  [1 / 6, "10 min"],
  [1, "1 h"],
  [6, "6 h"],
  [24, "1 day"],
  [168, "1 week"],
  [672, "4 weeks"],
];
const DASHES = ["", "7 4", "2 4", "10 3 2 3"] as const;

interface Axes {
  readonly width: number;
  readonly xOf: (hours: number) => number;
  readonly yOf: (share: number) => number;
}

function axesOf(width: number): Axes {
  const span = Math.log(TO_HOURS / FROM_HOURS);
  return {
    width,
    xOf: (hours) =>
      LEFT +
      ((width - LEFT - RIGHT) * Math.log(Math.min(TO_HOURS, Math.max(FROM_HOURS, hours)) / FROM_HOURS)) /
        span,
    yOf: (share) => TOP + PLOT * (1 - share),
  };
}

function grid({ width, xOf, yOf }: Axes): Mark[] {
  const shares = [0, 0.25, 0.5, 0.75, 1];
  const crowded = width < 420 ? [0, 2, 4] : width < 560 ? [4] : [];
  const shown = TICKS.filter((_, i) => !crowded.includes(i));
  return [
    ...shares.flatMap((share) => [
      line(LEFT, yOf(share), width - RIGHT, yOf(share), stroked("hair", 1)),
      words(LEFT - 6, yOf(share) + 4, `${share * 100} %`, { anchor: "end", ink: "soft", size: 11 }),
    ]),
    ...shown.flatMap(([hours, name], i) => [
      line(xOf(hours), TOP, xOf(hours), TOP + PLOT + 5, stroked("hair", 1)),
      words(xOf(hours), TOP + PLOT + 18, name, {
        anchor: i === shown.length - 1 ? "end" : "middle",
        ink: "soft",
        size: 11,
      }),
    ]),
    words(LEFT, 14, "not yet noticed by anybody", { ink: "soft", size: 11 }),
    words(width - RIGHT, TOP + PLOT + 34, "since the fault began", { anchor: "end", ink: "soft", size: 11 }),
  ];
}

function curve({ curve: points }: NoticeAnswer, { xOf, yOf }: Axes, at: number): Mark {
  const path = points
    .map(({ hours, unnoticed }) => `${round(xOf(hours))} ${round(yOf(unnoticed))}`)
    .join(" L");
  const dash = DASHES[at % DASHES.length]!;
  return mark("path", {
    d: `M${path}`,
    ...stroked("ink", at === 0 ? 2.4 : 1.4),
    ...(dash === "" ? {} : { "stroke-dasharray": dash }),
  });
}

const LABEL_SIZE = 12;
/** Width of a bold character, on average and rather too wide, as a share of its size. */
const BOLD_SHARE = 0.6;
const LINE = 16;
const CLEAR = 7;

/** Share that a falling curve has at an abscissa, the higher one where it jumps. */
function shareAt({ curve: points }: NoticeAnswer, x: number, { xOf }: Axes): number {
  const before = points.filter(({ hours }) => hours > 0 && xOf(hours) <= x).at(-1);
  return before?.unnoticed ?? 1;
}

interface Label {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
}

/**
 * A label right of its point where there is room, else as far right as it goes, and above every curve: they fall, so what
 * is above them where it begins is above them to its end.
 */
function labelAt(
  text: string,
  { hours, share }: { readonly hours: number; readonly share: number },
  answers: readonly NoticeAnswer[],
  axes: Axes,
): Label {
  const width = text.length * LABEL_SIZE * BOLD_SHARE;
  const x = Math.min(axes.xOf(hours) + 8, axes.width - RIGHT - width);
  const highest = Math.max(share, ...answers.map((answer) => shareAt(answer, x, axes)));
  return { text, x, y: axes.yOf(highest) - CLEAR, width };
}

/** Labels of which none lies on the one after it: the first of two moves up. */
function apart(labels: readonly Label[]): readonly Label[] {
  return labels.map((label, i) => {
    const next = labels[i + 1];
    if (next === undefined) return label;
    return next.y - label.y >= LINE ? label : { ...label, y: next.y - LINE };
  });
}

/** Where half, and where 95 %, of faults are known: a line dropped to the axis, with the time in words. */
function drops(answer: NoticeAnswer, answers: readonly NoticeAnswer[], axes: Axes): Mark[] {
  const { xOf, yOf } = axes;
  const points = [
    { hours: answer.medianHours, share: 0.5, name: "half" },
    { hours: answer.p95Hours, share: 0.05, name: "95 %" },
  ].flatMap(({ hours, ...point }) => (hours === null ? [] : [{ ...point, hours }]));
  const labels = points.map((point) =>
    labelAt(`${point.name} within ${hoursWords(point.hours)}`, point, answers, axes),
  );
  return [
    ...apart(labels).map(({ text, x, y }) => words(x, y, text, { bold: true, size: LABEL_SIZE })),
    ...points.flatMap(({ hours, share }) => [
      line(xOf(hours), yOf(share), xOf(hours), TOP + PLOT, {
        ...stroked("copper", 1.6),
        "stroke-dasharray": "3 3",
      }),
      mark("circle", { cx: round(xOf(hours)), cy: round(yOf(share)), r: 4, ...stroked("copper", 2) }),
    ]),
  ];
}

function legend(input: NoticeCurveInput): Mark[] {
  return input.answers.flatMap(({ name }, i) => {
    const y = TOP + PLOT + 54 + 18 * i;
    const dash = DASHES[i % DASHES.length]!;
    return [
      line(LEFT, y - 4, LEFT + 34, y - 4, {
        ...stroked("ink", i === 0 ? 2.4 : 1.4),
        ...(dash === "" ? {} : { "stroke-dasharray": dash }),
      }),
      words(LEFT + 42, y, name, { size: 12 }),
    ];
  });
}

/** Minutes below two hours, hours below two days, else days. */
export function hoursWords(hours: number): string {
  if (hours < 1 / 60) return "a minute";
  if (hours < 2) return `${Math.round(hours * 60)} min`;
  if (hours < 48) return `${Number(hours.toFixed(hours < 10 ? 1 : 0))} h`;
  return `${Number((hours / 24).toFixed(hours < 240 ? 1 : 0))} days`;
}

const orNever = (hours: number | null): string => (hours === null ? "not within 28 days" : hoursWords(hours));

/** Time to notice as a falling line of "not yet noticed" over the hours since the fault began, on a logarithmic axis. */
export function drawNoticeCurve(input: NoticeCurveInput): Drawing {
  const width = Math.max(260, Math.round(input.width));
  const axes = axesOf(width);
  const [first] = input.answers;
  const answers = input.answers.map(({ answer }) => answer);
  return {
    width,
    height: TOP + PLOT + 50 + 18 * input.answers.length,
    title: input.title,
    marks: [
      ...grid(axes),
      ...input.answers.map(({ answer }, i) => curve(answer, axes, i)),
      ...(first === undefined ? [] : drops(first.answer, answers, axes)),
      ...legend(input),
    ],
    table: {
      caption: input.title,
      columns: ["By", "Half known within", "95 % within", "Unknown after a day", "after a week"],
      rows: input.answers.map(({ name, answer }) => [
        name,
        orNever(answer.medianHours),
        orNever(answer.p95Hours),
        `${(100 * answer.unnoticedAfter24h).toFixed(1)} %`,
        `${(100 * answer.unnoticedAfter7d).toFixed(1)} %`,
      ]),
    },
  };
}
