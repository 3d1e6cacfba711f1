import type { DryLevel } from "./dry-level.ts";
import { mannKendall, serialVarianceFactor } from "./statistics/mann-kendall.ts";
import { robustSigma } from "./statistics/quantile.ts";
import { theilSen } from "./statistics/theil-sen.ts";

/** Weeks that a slope needs at least. */
const LEAST_WEEKS = 8;
const YEAR = 365.25;

/** How the dry level moves since its last change. */
export interface Trend {
  /** First day that was used. */
  readonly sinceDay: number;
  readonly weeks: number;
  /** Theil–Sen slope with its 90 % interval, widened for weeks that depend on their neighbours [decades/year]. */
  readonly decadesPerYear: number;
  readonly low: number;
  readonly high: number;
  /** Mann–Kendall, two-sided, its variance corrected for the same. */
  readonly p: number;
  /** Level on the last day [log10 Ω], and the spread of weeks about the line [decades]. */
  readonly level: number;
  readonly lastDay: number;
  readonly sigma: number;
}

/** Slope of the weekly dry level from a day on; null with too few weeks. */
export function trendOf({ weeks }: Pick<DryLevel, "weeks">, sinceDay: number): Trend | null {
  const used = weeks.filter(({ day }) => day >= sinceDay);
  if (used.length < LEAST_WEEKS) return null;
  const days = used.map(({ day }) => day);
  const values = used.map(({ value }) => value);
  const varianceFactor = serialVarianceFactor(values);
  const line = theilSen(days, values, { confidence: 0.9, varianceFactor })!;
  const lastDay = days.at(-1)!;
  return {
    sinceDay: days[0]!,
    weeks: used.length,
    decadesPerYear: line.slope * YEAR,
    low: line.low * YEAR,
    high: line.high * YEAR,
    p: mannKendall(values, varianceFactor).p,
    level: line.intercept + line.slope * lastDay,
    lastDay,
    sigma: robustSigma(values.map((value, i) => value - line.slope * days[i]!)),
  };
}
