import { normalBelow } from "./statistics/normal.ts";
import type { Trend } from "./trend.ts";

const YEAR = 365.25;
/** How far ahead is looked. */
const HORIZON_DAYS = Math.round(5 * YEAR);
/** z of the 5th and 95th percentile. */
const NINETY = 1.6448536269514722;
/** A slope does not stay what it was: its relative wander over a year ahead [design choice, measured by bench/history-accuracy]. */
const SLOPE_WANDER = 0.55;
/** Slopes of arrays without a known decline: most stay within this [decades/year] [design choice]. */
const USUAL_SLOPE = 0.05;
/** Days between two points of the fan. */
const FAN_STEP = 30;

/** When a level crosses the threshold. Days from the last reading; null: not within five years. */
export interface Crossing {
  readonly soonestDays: number | null;
  readonly middleDays: number | null;
  readonly latestDays: number | null;
  /** Chance that it crosses within a year, and within five. */
  readonly withinYear: number;
  readonly withinFiveYears: number;
}

export interface FanPoint {
  readonly daysAhead: number;
  /** log10 Ω. */
  readonly low: number;
  readonly middle: number;
  readonly high: number;
}

export interface Forecast {
  readonly dry: Crossing | null;
  /** The level that one wet morning in ten falls below. */
  readonly wet: Crossing | null;
  readonly fan: readonly FanPoint[];
}

interface Line {
  readonly level: number;
  readonly levelSd: number;
  readonly slope: number;
  readonly slopeSd: number;
}

/**
 * The dry level carried forward along its slope, with what is not known of both.
 *
 * A slope that has not been found to be a decline is drawn towards none: most arrays decline little.
 *
 * @param declining  whether the decline is taken as found
 * @param wetDepth   how far one wet morning in ten falls below the dry level [decades]; NaN where it is not known
 */
export function forecastOf(
  trend: Trend,
  declining: boolean,
  wetDepth: number,
  thresholdLog10: number | null,
): Forecast {
  const line = lineOf(trend, declining);
  const cross = (depth: number): Crossing | null =>
    thresholdLog10 === null || Number.isNaN(depth)
      ? null
      : crossingOf({ ...line, level: line.level - depth }, thresholdLog10);
  const fan: FanPoint[] = [];
  for (let daysAhead = 0; daysAhead <= 2 * YEAR; daysAhead += FAN_STEP) {
    const [middle, sd] = at(line, daysAhead);
    fan.push({ daysAhead, low: middle - NINETY * sd, middle, high: middle + NINETY * sd });
  }
  return { dry: cross(0), wet: cross(wetDepth), fan };
}

function lineOf(trend: Trend, declining: boolean): Line {
  const slopeSd = (trend.high - trend.low) / (2 * NINETY);
  const levelSd = Math.max(0.02, trend.sigma) * Math.sqrt(4 / Math.max(4, trend.weeks)) + 0.02;
  const found = { level: trend.level, levelSd, slope: trend.decadesPerYear / YEAR, slopeSd: slopeSd / YEAR };
  if (declining) return found;
  const weight = USUAL_SLOPE ** 2 / (USUAL_SLOPE ** 2 + slopeSd ** 2);
  return { ...found, slope: found.slope * weight, slopeSd: (slopeSd * Math.sqrt(weight)) / YEAR };
}

/** Mean and standard deviation of the level some days ahead. */
function at({ level, levelSd, slope, slopeSd }: Line, days: number): readonly [number, number] {
  const wander = SLOPE_WANDER * slope * days * Math.sqrt(YEAR / (YEAR + days));
  return [level + slope * days, Math.hypot(levelSd, slopeSd * days, wander)];
}

function crossingOf(line: Line, threshold: number): Crossing {
  const chance = (days: number): number => {
    const [middle, sd] = at(line, days);
    return normalBelow((threshold - middle) / sd);
  };
  const dayOf = (share: number): number | null => {
    if (chance(0) >= share) return 0;
    let [low, high] = [0, HORIZON_DAYS];
    if (chance(high) < share) return null;
    while (high - low > 1) {
      const middle = Math.floor((low + high) / 2);
      if (chance(middle) >= share) high = middle;
      else low = middle;
    }
    return high;
  };
  return {
    soonestDays: dayOf(0.05),
    middleDays: dayOf(0.5),
    latestDays: dayOf(0.95),
    withinYear: chance(YEAR),
    withinFiveYears: chance(HORIZON_DAYS),
  };
}
