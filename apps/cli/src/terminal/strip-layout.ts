import type { StripMarks } from "./strip-marks.ts";

/** One row of a strip: part of a string, from one junction to another, set out in columns. */
export interface StripRow {
  readonly width: number;
  /** Junctions drawn in this row, ascending. A row that goes on in the next one repeats its last junction there. */
  readonly junctions: readonly number[];
  /** Number every so many junctions, so that figures do not run together. */
  readonly numberEvery: number;
  /** The column of a place, or undefined when it lies in another row. */
  readonly columnOf: (at: number) => number | undefined;
  readonly skeleton: (marks: StripMarks) => string;
}

/** How one module is drawn: full `•┤  ├`, or compact `•══`, with room for the places inside it. */
interface ModuleShape {
  readonly pitch: number;
  readonly wall: 0 | 1;
}
const full: ModuleShape = { pitch: 5, wall: 1 };
const compact: ModuleShape = { pitch: 3, wall: 0 };

/** Sign, space and home run on the left; the same in reverse on the right. */
const leftMargin = 4;
const rightMargin = 4;
const mostFullRows = 2;

/**
 * Sets a string of `modules` modules out in rows of at most `width` columns. Modules are drawn in full while two rows
 * hold them, else compactly; rows are of equal length to one module, so that the eye can compare them.
 */
export function layOutRows(modules: number, width: number): readonly StripRow[] {
  const capacity = (shape: ModuleShape): number =>
    Math.max(1, Math.floor((width - leftMargin - rightMargin - 1) / shape.pitch));
  const shape = Math.ceil(modules / capacity(full)) <= mostFullRows ? full : compact;
  const count = Math.ceil(modules / capacity(shape));
  const perRow = Math.ceil(modules / count);
  return Array.from({ length: count }, (_, index) => {
    const from = index * perRow;
    return row({ from, to: Math.min(modules, from + perRow), modules, shape });
  });
}

interface RowSpan {
  readonly from: number;
  readonly to: number;
  readonly modules: number;
  readonly shape: ModuleShape;
}

function row({ from, to, modules, shape }: RowSpan): StripRow {
  const columnOf = (at: number): number | undefined => {
    // A junction shared by two rows belongs to the earlier one, so that its probability is drawn once.
    const inThisRow = from === 0 ? at >= from && at <= to : at > from && at <= to;
    if (!inThisRow) return undefined;
    return columnInside(at - from, shape);
  };
  const first = from === 0 ? 0 : from + 1;
  return {
    width: leftMargin + (to - from) * shape.pitch + 1 + rightMargin,
    junctions: Array.from({ length: to - first + 1 }, (_, index) => first + index),
    numberEvery: shape === full ? 1 : to > 99 ? 2 : 1,
    columnOf,
    skeleton: (marks) => skeleton({ from, to, modules, shape }, marks),
  };
}

function columnInside(offset: number, shape: ModuleShape): number {
  const module = Math.floor(offset);
  const column = leftMargin + module * shape.pitch;
  const fraction = offset - module;
  if (fraction === 0) return column;
  const room = shape.pitch - 1 - 2 * shape.wall;
  return column + 1 + shape.wall + Math.floor(fraction * room);
}

function skeleton({ from, to, modules, shape }: RowSpan, marks: StripMarks): string {
  const isFirst = from === 0;
  const isLast = to === modules;
  const left = isFirst
    ? `${marks.minus} ${marks.homeRun.repeat(leftMargin - 2)}`
    : `  ${marks.onward.repeat(leftMargin - 2)}`;
  const right = isLast
    ? `${marks.homeRun.repeat(rightMargin - 2)} ${marks.plus}`
    : `${marks.onward.repeat(rightMargin - 2)}  `;
  const wall = (mark: string): string => (shape.wall === 1 ? mark : "");
  const inside = shape.wall === 1 ? marks.inside : marks.compactModule;
  const room = inside.repeat(shape.pitch - 1 - 2 * shape.wall);
  const module = wall(marks.moduleStart) + room + wall(marks.moduleEnd);
  const start = isFirst ? marks.junction : marks.onward;
  return `${left}${start}${(module + marks.junction).repeat(to - from)}${right}`;
}
