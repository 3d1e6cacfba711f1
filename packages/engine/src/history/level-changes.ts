import type { DryLevel } from "./dry-level.ts";
import type { LevelShape } from "./level-shape.ts";
import { dateOfDay } from "./local-day.ts";
import { median } from "./statistics/quantile.ts";
import { runningSums, squaresWithin } from "./statistics/change-points.ts";
import type { Trouble } from "./weigh.ts";

/** Dry readings either side of a weekly change among which its day is looked for. */
const NEAR = 14;
/** Changes smaller than a factor of 1.6 are not told. */
const LEAST_DECADES = 0.2;

/** A day on which the dry level changed. */
export interface LevelChange {
  readonly day: number;
  readonly date: string;
  readonly kind: "step" | "begin-of-slope";
  readonly fromOhms: number;
  readonly toOhms: number;
}

/** Where the level stepped, to the day, or began to sink. */
export function levelChanges(level: DryLevel, shape: LevelShape, verdict: Trouble): LevelChange[] {
  const { weeks } = level;
  if (verdict === "progressive") {
    const begin = shape.slope.changes.at(-1);
    if (begin === undefined) return [];
    const day = Math.floor(weeks[begin]!.day);
    const [fromOhms, toOhms] = [10 ** shape.slope.before, 10 ** shape.slope.after];
    return [{ day, date: dateOfDay(day), kind: "begin-of-slope", fromOhms, toOhms }];
  }
  // Contact and a broken sensor move the weekly level without the array having stepped.
  if (shape.kind !== "steps" || verdict === "intermittent" || verdict === "sensor") return [];
  // Two changes of the weekly level can lead to the same day.
  const steps = new Map<number, LevelChange>();
  for (const index of shape.steps.changes)
    for (const step of stepNear(level, weeks[index]!.day)) steps.set(step.day, step);
  return [...steps.values()];
}

/** The best single change among the dry readings around a day. */
function stepNear({ readings }: DryLevel, about: number): LevelChange[] {
  const found = readings.findIndex(({ day }) => day >= about);
  const middle = found < 0 ? readings.length : found;
  const near = readings.slice(Math.max(0, middle - NEAR), middle + NEAR);
  const values = near.map(({ value }) => value);
  const sums = runningSums(values);
  let best = { change: 0, squares: Infinity };
  for (let change = 2; change <= values.length - 2; change++) {
    const squares = squaresWithin(sums, 0, change) + squaresWithin(sums, change, values.length);
    if (squares < best.squares) best = { change, squares };
  }
  if (best.change === 0) return [];
  const [before, behind] = [median(values.slice(0, best.change)), median(values.slice(best.change))];
  if (Math.abs(before - behind) < LEAST_DECADES) return [];
  const { day } = near[best.change]!;
  return [{ day, date: dateOfDay(day), kind: "step", fromOhms: 10 ** before, toOhms: 10 ** behind }];
}
