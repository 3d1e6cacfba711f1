import type { Style } from "./style.ts";
import { layOutRows, type StripRow } from "./strip-layout.ts";
import { asciiMarks, type StripMarks, unicodeMarks } from "./strip-marks.ts";

/** What a strip shows of one string. */
export interface StripDrawing {
  /** In series, counted from the negative end. */
  readonly modules: number;
  /** `at` in modules from the negative end: whole = junction, fraction = inside a module; 0 and `modules` are the ends. */
  readonly places: readonly { readonly at: number; readonly probability: number }[];
  /** Junctions at which leads have been placed. */
  readonly measured: readonly number[];
  /** Where the next step touches the string. */
  readonly next?: number;
}

export interface StripSheet {
  readonly width: number;
  readonly style: Style;
  readonly ascii: boolean;
}

/** Probability under which a place is drawn as empty: what a finding leaves out of its list. */
export const leastShown = 0.001;

/** Places that get their probability in figures above the bar. */
const numberedPlaces = 3;

/**
 * Draws a string as a strip, for terminals.
 *
 * Modules stand between − and + with a dot for each junction and a line for each home run. Where damage may be, the ink
 * gets denser with the probability, a bar stands above the place, and the likeliest places carry their probability in
 * figures. A lead drawn below marks a junction that was measured, a dotted lead the one to measure next. Long strings are
 * drawn with narrower modules and then in several rows of equal length.
 *
 * A pure function from data to lines: no line is wider than the sheet.
 */
export function drawStrip(drawing: StripDrawing, sheet: StripSheet): string[] {
  const marks = sheet.ascii ? asciiMarks : unicodeMarks;
  const numbered = [...drawing.places]
    .sort((a, b) => b.probability - a.probability)
    .slice(0, numberedPlaces)
    .filter((place) => place.probability >= 0.01);
  const rows = layOutRows(drawing.modules, sheet.width);
  return rows.flatMap((row, index) => [
    ...(index > 0 ? [""] : []),
    ...drawRow(row, { drawing, numbered, marks, style: sheet.style }),
  ]);
}

interface RowInk {
  readonly drawing: StripDrawing;
  readonly numbered: StripDrawing["places"];
  readonly marks: StripMarks;
  readonly style: Style;
}

function drawRow(row: StripRow, { drawing, numbered, marks, style }: RowInk): string[] {
  const probability = new Map<number, number>();
  for (const place of drawing.places) {
    const column = row.columnOf(place.at);
    if (column !== undefined) probability.set(column, (probability.get(column) ?? 0) + place.probability);
  }
  const shown = [...probability].filter(([, share]) => share >= leastShown);
  const labels = numbered.flatMap((place) => {
    const column = row.columnOf(place.at);
    return column === undefined ? [] : [{ column, text: percent(place.probability) }];
  });
  const bars = shown.map(([column, share]) => ({ column, text: graded(marks.bars, share) }));
  const lines = [
    ...(labels.length > 0 ? [write(row.width, labels, "centre")] : []),
    ...(bars.length > 0 ? [style.strong(write(row.width, bars, "start"))] : []),
    body(row, new Map(shown), marks),
    style.secondary(write(row.width, junctionNumbers(row), "centre")),
    ...leads(row, { drawing, marks, style }),
  ];
  return lines.filter((line) => line.trim() !== "").map((line) => line.trimEnd());
}

/** The string itself: home runs, junctions and modules, inked by probability. */
function body(row: StripRow, shown: ReadonlyMap<number, number>, marks: StripMarks): string {
  const cells = Array.from(row.skeleton(marks));
  for (const [column, share] of shown) {
    const ink = graded(marks.densities, share);
    cells[column] = ink;
    // An end stands for its home run too: no voltage tells the two apart.
    for (const step of [-1, 1])
      for (let at = column + step; cells[at] === marks.homeRun; at += step) cells[at] = ink;
  }
  return cells.join("");
}

function junctionNumbers(row: StripRow): readonly Label[] {
  const junctions = row.junctions;
  const step = row.numberEvery;
  return junctions
    .filter((at) => at % step === 0 || at === junctions.at(0) || at === junctions.at(-1))
    .map((at) => ({ column: row.columnOf(at)!, text: String(at) }));
}

function leads(row: StripRow, { drawing, marks, style }: Omit<RowInk, "numbered">): string[] {
  const measured = [...new Set(drawing.measured)]
    .map((at) => row.columnOf(at))
    .filter((column) => column !== undefined);
  const next = drawing.next === undefined ? undefined : row.columnOf(drawing.next);
  const line = Array.from(" ".repeat(row.width));
  for (const column of measured) line[column] = marks.lead;
  const lines: string[] = [];
  if (next === undefined) {
    lines.push(line.join(""));
  } else {
    line[next] = style.copper(marks.nextLead);
    lines.push(line.join(""));
    lines.push(style.copper(write(row.width, [{ column: next, text: marks.nextWord }], "centre")));
  }
  return lines;
}

interface Label {
  readonly column: number;
  readonly text: string;
}

/** Sets labels on one line at their columns, first come first served; one that would touch an earlier one is left out. */
function write(width: number, labels: readonly Label[], anchor: "start" | "centre"): string {
  const cells = Array.from(" ".repeat(width));
  for (const { column, text } of labels) {
    const letters = Array.from(text);
    const shift = anchor === "centre" ? Math.floor((letters.length - 1) / 2) : 0;
    const start = Math.max(0, Math.min(width - letters.length, column - shift));
    const apart = anchor === "centre" ? 1 : 0;
    const around = cells.slice(Math.max(0, start - apart), start + letters.length + apart);
    if (around.some((cell) => cell !== " ")) continue;
    letters.forEach((letter, index) => (cells[start + index] = letter));
  }
  return cells.join("");
}

/** The mark for a share of one: the first for next to nothing, the last for nearly all. */
function graded(scale: readonly string[], share: number): string {
  const index = Math.min(scale.length - 1, Math.floor(share * scale.length));
  return scale[Math.max(0, index)]!;
}

/** A probability in figures: whole per cents, and never a certainty that is not there. */
export function percent(probability: number): string {
  if (probability < 0.001) return "<0.1 %";
  if (probability < 0.0995) return `${(probability * 100).toFixed(1)} %`;
  if (probability > 0.995) return probability > 0.9995 ? ">99.9 %" : `${(probability * 100).toFixed(1)} %`;
  return `${(probability * 100).toFixed(0)} %`;
}
