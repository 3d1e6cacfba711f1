import { type Grounds, grounds, named, ohmsText } from "../grounds.ts";
import type { WatchLimits } from "../limits.ts";
import { daysLater } from "../time/zone.ts";

/** Lowest insulation of one local date. */
export interface DailyMinimum {
  readonly date: string;
  readonly ohms: number;
  /** The instrument was at its ceiling: the true value is this or more. */
  readonly atLeast: boolean;
}

export interface DriftAnswer {
  readonly drifting: boolean | "cannot-tell";
  readonly reason: Grounds;
}

/** Decides from daily minima, ascending by date, whether insulation drifts down. */
export type DriftRule = (minima: readonly DailyMinimum[], limits: WatchLimits) => DriftAnswer;

function median(minima: readonly DailyMinimum[]): DailyMinimum {
  const sorted = minima.toSorted((one, other) => one.ohms - other.ohms);
  // The lower of the two middle ones: a day that was measured, and to the safe side.
  return sorted[Math.floor((sorted.length - 1) / 2)]!;
}

/**
 * The median of the last week against the median of the three weeks before.
 *
 * Medians, because a few wet mornings are weather; a ratio, because insulation spans decades. A baseline at the
 * instrument's ceiling is a lower bound and the answer holds all the more; recent values there are no drift. It knows
 * nothing of dew and season: a rule that does takes its place through `DriftRule`.
 */
export const medianDrift: DriftRule = (minima, limits) => {
  const names = [
    "driftRatio",
    "driftRecentDays",
    "driftEarlierDays",
    "driftLeastRecent",
    "driftLeastEarlier",
  ] as const;
  const by = named(limits, ...names);
  const newest = minima.at(-1)?.date;
  const split = newest === undefined ? "" : daysLater(newest, 1 - limits.driftRecentDays.value);
  const start = newest === undefined ? "" : daysLater(split, -limits.driftEarlierDays.value);
  const recent = minima.filter(({ date }) => date >= split);
  const earlier = minima.filter(({ date }) => date >= start && date < split);
  const counts = { recentDays: recent.length, earlierDays: earlier.length };
  if (recent.length < limits.driftLeastRecent.value || earlier.length < limits.driftLeastEarlier.value) {
    const text = `${recent.length} recent and ${earlier.length} earlier days with checks are too few to compare.`;
    return { drifting: "cannot-tell", reason: grounds(text, counts, by) };
  }
  const [now, before] = [median(recent), median(earlier)];
  const figures = { ...counts, recentOhms: now.ohms, earlierOhms: before.ohms };
  const drifting = !now.atLeast && now.ohms < limits.driftRatio.value * before.ohms;
  const percent = Math.round(limits.driftRatio.value * 100);
  const outcome = drifting
    ? `below ${percent} % of that. Look at it before it becomes an alarm.`
    : `not below ${percent} % of that.`;
  const text = `The daily minimum was ${ohmsText(before)} and is now ${ohmsText(now)}, ${outcome}`;
  return { drifting, reason: grounds(text, figures, by) };
};
