import { line, type Mark, stroked, words } from "../drawings/drawing.ts";
import type { LevelChange } from "./level-changes.ts";

const SIZE = 11;
/** Widest that a character of a label is, for its size; and the height of a row of labels. */
const CHARACTER = 0.6 * SIZE;
const ROW = 14;
const GAP = 4;

interface Place {
  readonly x: (day: number) => number;
  readonly y: (log10Ohms: number) => number;
  readonly top: number;
  readonly foot: number;
  /** Where the plot ends to the right. */
  readonly edge: number;
}

/** Changes of the level as dashed lines with their day, and how far the level fell. Labels do not cover each other. */
export function changeMarks(changes: readonly LevelChange[], place: Place): Mark[] {
  const { x, y, top, foot } = place;
  const labels = labelsOf(changes, place);
  return changes.flatMap(({ day, fromOhms, toOhms }, i) => {
    const { text, left, row } = labels[i]!;
    return [
      line(x(day), top, x(day), foot, { ...stroked("copper", 1.4), "stroke-dasharray": "6 3" }),
      words(left, top + 12 + row * ROW, text, { size: SIZE }),
      line(x(day) - 5, y(Math.log10(fromOhms)), x(day) + 5, y(Math.log10(fromOhms)), stroked("copper", 2)),
      line(x(day) - 5, y(Math.log10(toOhms)), x(day) + 5, y(Math.log10(toOhms)), stroked("copper", 2)),
    ];
  });
}

interface Label {
  readonly text: string;
  readonly left: number;
  readonly row: number;
}

/** To the right of its line, or to the left where it would run out of the plot; in the first row that is free there. */
function labelsOf(changes: readonly LevelChange[], { x, edge }: Place): Label[] {
  const placed: Label[] = [];
  const width = (text: string): number => text.length * CHARACTER;
  for (const { day, date, kind } of changes) {
    const text = kind === "step" ? `step ${date}` : `sinks from ${date}`;
    const right = x(day) + GAP;
    const left = right + width(text) <= edge ? right : x(day) - GAP - width(text);
    const taken = placed.filter(
      (other) => other.left < left + width(text) + GAP && left < other.left + width(other.text) + GAP,
    );
    let row = 0;
    while (taken.some((other) => other.row === row)) row++;
    placed.push({ text, left, row });
  }
  return placed;
}
