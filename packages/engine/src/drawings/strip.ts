import type { PlaceProbability } from "../finder/finding.ts";
import { type Drawing, filled, line, mark, type Mark, round, stroked, words } from "./drawing.ts";

/** A measured point: a node of the string with what was read there, keyed by number to the list of readings. */
export interface Lead {
  readonly at: number;
  readonly number: number;
}

export interface StripInput {
  readonly id: string;
  /** Modules in series, counted from the negative end. */
  readonly modules: number;
  /** Places of this string with their probability; others are left out. */
  readonly places: readonly PlaceProbability[];
  readonly leads: readonly Lead[];
  /** Nodes that the next step touches. */
  readonly proposed: readonly number[];
  /** Where the trade's proportional rule points, in modules. */
  readonly handAt: number | null;
  /** Width to draw at, in the reader's pixels or points; at least 240. */
  readonly width: number;
}

const SIDE = 26;
const BARS = 46;
const ROW = 76;
const MODULE = 26;
const HEIGHT = 176;
const LEAST_WIDTH = 240;

interface Frame {
  readonly width: number;
  readonly pitch: number;
  readonly xOf: (at: number) => number;
}

function frameOf({ modules, width: asked }: StripInput): Frame {
  const width = Math.max(LEAST_WIDTH, Math.round(asked));
  const pitch = (width - 2 * SIDE) / modules;
  return { width, pitch, xOf: (at) => SIDE + at * pitch };
}

/** Probability that the damage is at each module, its junctions shared between its neighbours. */
function densityOf({ modules, places }: StripInput): readonly number[] {
  const density = new Array<number>(modules).fill(0);
  for (const { at, probability } of places) {
    const above = Math.min(modules - 1, Math.floor(at));
    const below = Number.isInteger(at) ? Math.max(0, above - (at < modules ? 1 : 0)) : above;
    density[above]! += probability / 2;
    density[below]! += probability / 2;
  }
  return density;
}

function modulesOf(input: StripInput, { pitch, xOf }: Frame): Mark[] {
  const gap = Math.min(3, pitch / 5);
  return densityOf(input).flatMap((density, module) => {
    const box = { x: round(xOf(module) + gap / 2), y: ROW, width: round(pitch - gap), height: MODULE };
    const shade = Math.min(0.85, density);
    return [
      ...(shade > 0.005
        ? [mark("rect", { ...box, ...filled("ink"), "fill-opacity": round(shade * 100) / 100 })]
        : []),
      mark("rect", { ...box, ...stroked("ink") }),
    ];
  });
}

function numbersOf({ modules }: StripInput, { pitch, xOf }: Frame): Mark[] {
  const step = [1, 2, 5, 10, 20, 50].find((every) => every * pitch >= 20) ?? 100;
  const numbers: Mark[] = [];
  for (let module = step; module <= modules; module += step)
    numbers.push(
      words(xOf(module - 0.5), ROW + MODULE + 14, String(module), {
        anchor: "middle",
        ink: "soft",
        size: 11,
      }),
    );
  return numbers;
}

/** One bar above each place; the largest carries its percentage. */
function barsOf({ places }: StripInput, { xOf, pitch, width }: Frame): Mark[] {
  const [top] = places.toSorted((a, b) => b.probability - a.probability);
  const barWidth = Math.max(2, Math.min(9, pitch / 4));
  const bars = places.map(({ at, probability }) => {
    const height = Math.max(1, probability * BARS);
    return mark("rect", {
      x: round(xOf(at) - barWidth / 2),
      y: round(ROW - 8 - height),
      width: round(barWidth),
      height: round(height),
      ...filled("ink"),
    });
  });
  if (top === undefined) return bars;
  const y = ROW - 14 - Math.max(1, top.probability * BARS);
  const x = Math.min(width - 20, Math.max(20, xOf(top.at)));
  return [...bars, words(x, y, percent(top.probability), { anchor: "middle", bold: true, size: 13 })];
}

function wiringOf({ modules }: StripInput, { xOf, pitch }: Frame): Mark[] {
  const middle = ROW + MODULE / 2;
  const dots = Array.from({ length: modules + 1 }, (_, at) =>
    mark("circle", { cx: round(xOf(at)), cy: middle, r: pitch < 9 ? 1.5 : 2.5, ...filled("ink") }),
  );
  const run = (at: number, outwards: -1 | 1): Mark =>
    mark("path", {
      d: `M${round(xOf(at))} ${middle} h${outwards * 14} v${MODULE + 22}`,
      ...stroked("ink"),
    });
  const ends = [
    words(xOf(0) - 14, ROW + MODULE + 46, "−", { anchor: "middle", size: 15, bold: true }),
    words(xOf(modules) + 14, ROW + MODULE + 46, "+", { anchor: "middle", size: 15, bold: true }),
  ];
  return [run(0, -1), run(modules, 1), ...dots, ...ends];
}

function leadsOf({ leads, modules }: StripInput, { xOf }: Frame): Mark[] {
  const seen = new Map<number, number[]>();
  for (const { at, number } of leads) seen.set(at, [...(seen.get(at) ?? []), number]);
  return [...seen].flatMap(([at, numbers]) => {
    const x = xOf(at) + (at === 0 ? -14 : at === modules ? 14 : 0);
    const from = at === 0 || at === modules ? ROW + MODULE + 50 : ROW + MODULE / 2 + 3;
    const anchor = at === 0 ? "start" : at === modules ? "end" : "middle";
    const textX = at === 0 ? 2 : at === modules ? xOf(modules) + SIDE - 2 : x;
    return [
      line(x, from, x, HEIGHT - 26, stroked("ink")),
      words(textX, HEIGHT - 13, spans(numbers), { anchor, size: 11 }),
    ];
  });
}

/** 1, 2, 3, 7 as 1–3, 7. */
function spans(numbers: readonly number[]): string {
  const parts: [number, number][] = [];
  for (const number of numbers.toSorted((a, b) => a - b)) {
    const last = parts.at(-1);
    if (last?.[1] === number - 1) last[1] = number;
    else if (last?.[1] !== number) parts.push([number, number]);
  }
  return parts.map(([from, to]) => (from === to ? String(from) : `${from}–${to}`)).join(", ");
}

/** Dotted in copper, on a ring of paper so that it stands out on ink. */
function proposedOf({ proposed, modules }: StripInput, { xOf }: Frame): Mark[] {
  return proposed.flatMap((at) => {
    const end = at === 0 || at === modules;
    const place = {
      cx: round(xOf(at) + (at === 0 ? -14 : at === modules ? 14 : 0)),
      cy: end ? ROW + MODULE + 41 : ROW + MODULE / 2,
      r: 11,
    };
    return [
      mark("circle", { ...place, class: "paper-line", stroke: "#faf8f3", "stroke-width": 6, fill: "none" }),
      mark("circle", { ...place, ...stroked("copper", 2.6), "stroke-dasharray": "3.5 2.5" }),
    ];
  });
}

function handRuleOf({ handAt }: StripInput, { xOf, width }: Frame): Mark[] {
  if (handAt === null) return [];
  const x = xOf(handAt);
  const y = ROW + MODULE + 20;
  const anchor = x > width / 2 ? "end" : "start";
  return [
    mark("path", { d: `M${round(x)} ${y} l-5 9 h10 z`, ...stroked("soft", 1.4) }),
    words(x + (anchor === "end" ? -9 : 9), y + 9, `hand rule ${handAt.toFixed(1)}`, {
      anchor,
      ink: "soft",
      size: 11,
    }),
  ];
}

const percent = (share: number): string =>
  `${share >= 0.995 ? "> 99" : (100 * share).toFixed(share < 0.1 ? 1 : 0)} %`;

function titleOf({ id, modules, places }: StripInput): string {
  const [top] = places.toSorted((a, b) => b.probability - a.probability);
  const likeliest =
    top === undefined ? "no place stands out" : `likeliest ${top.label}, ${percent(top.probability)}`;
  return `String ${id}, ${modules} modules from − to +: ${likeliest}`;
}

/**
 * A string as a row of modules between − and +, with the probability of damage at each place as a bar and as ink, the
 * measured points, the next one, and where the proportional rule points.
 */
export function drawStrip(input: StripInput): Drawing {
  const frame = frameOf(input);
  return {
    width: frame.width,
    height: HEIGHT,
    title: titleOf(input),
    marks: [
      ...modulesOf(input, frame),
      ...wiringOf(input, frame),
      ...numbersOf(input, frame),
      ...barsOf(input, frame),
      ...handRuleOf(input, frame),
      ...leadsOf(input, frame),
      ...proposedOf(input, frame),
    ],
    table: {
      caption: `Places on ${input.id} by probability`,
      columns: ["Place", "Modules from −", "Probability"],
      rows: input.places
        .toSorted((a, b) => b.probability - a.probability)
        .map(({ label, at, probability }) => [label, String(round(at)), percent(probability)]),
    },
  };
}
