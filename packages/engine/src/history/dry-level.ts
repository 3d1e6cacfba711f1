import type { Morning } from "./mornings.ts";
import { seasonAt, seasonOf, type Season } from "./season.ts";
import { quantileOfSorted } from "./statistics/quantile.ts";
import { weightedMedian } from "./weighted-median.ts";

/** Temperature to which dry readings are referred [°C]; a middle of mornings, only for comparing [design choice]. */
const REFERENCE_C = 15;
/** Mornings at most so far apart are compared for the effect of temperature [d]. */
const NEIGHBOURS_DAYS = 10;
const LEAST_COMPARISONS = 15;
/** Taken where temperature is noted and its effect cannot be told: between none and IEEE 43 [design choice]. */
const USUAL_EFFECT = -0.02;
/** What an effect of temperature may be [decades/K]; IEEE 43 has −0.030 [secondary], materials differ by a factor. */
const COEFFICIENT_RANGE = [-0.06, 0.01] as const;
/** Days whose dry readings make one value of the level. */
const WEEK = 7;
/** Share of weeks with a sure dry morning from which weeks without one are left out. */
const SURE_WEEKS = 0.3;

/** A dry reading referred to one temperature and season. */
export interface DryReading {
  readonly day: number;
  /** log10 Ω. */
  readonly value: number;
  readonly atCeiling: boolean;
  /** Dry by weather or by recovery; the others may be wet. */
  readonly sure: boolean;
}

export interface DryLevel {
  readonly readings: readonly DryReading[];
  /** Middle of each week that has readings: day in the middle, log10 Ω. */
  readonly weeks: readonly { readonly day: number; readonly value: number }[];
  /** Effect of temperature taken out [decades/K]; null where it was not known or could not be told. */
  readonly decadesPerK: number | null;
  /** Effect of season taken out instead, where no temperature is noted. */
  readonly season: Season | null;
}

/** Effects that are taken out of readings to compare them. */
export type Effects = Pick<DryLevel, "decadesPerK" | "season">;

/** Refers a reading [log10 Ω] of a day to one temperature and season. */
export function referred(
  { decadesPerK, season }: Effects,
  value: number,
  day: number,
  temperatureC: number | null,
): number {
  if (decadesPerK !== null)
    return temperatureC === null ? value : value - decadesPerK * (temperatureC - REFERENCE_C);
  return season === null ? value : value - seasonAt(season, day);
}

interface Raw {
  readonly day: number;
  readonly value: number;
  readonly atCeiling: boolean;
  readonly temperatureC: number | null;
  readonly sure: boolean;
}

/** What the array shows when it is dry, freed from temperature or season. */
export function dryLevel(mornings: readonly Morning[], ceiling: number | null): DryLevel {
  const raw = dryReadings(mornings);
  const decadesPerK = temperatureEffect(raw);
  const season = decadesPerK === null ? seasonOf(weekly(raw)) : null;
  const effects = { decadesPerK, season };
  const top = ceiling ?? Infinity;
  const readings = raw.map(({ day, value, atCeiling, temperatureC, sure }) => ({
    day,
    value: atCeiling ? value : Math.min(top, referred(effects, value, day, temperatureC)),
    atCeiling,
    sure,
  }));
  return { readings, weeks: weekly(readings), ...effects };
}

/** The day's recovery shows the dry array best; else a dry morning; a morning of unknown wetness is a dry one or lower. */
function dryReadings(mornings: readonly Morning[]): Raw[] {
  const raw: Raw[] = [];
  for (const { day, lowest, bound, recovered, recoveredBound, wetness, temperatureC } of mornings) {
    if (recovered !== null)
      raw.push({ day, value: recovered, atCeiling: recoveredBound === "at-least", temperatureC, sure: true });
    else if (wetness !== "wet")
      raw.push({
        day,
        value: lowest,
        atCeiling: bound === "at-least",
        temperatureC,
        sure: wetness === "dry",
      });
  }
  return raw;
}

/** Slope through the origin of changes from one dry morning to the next, by least absolute deviations. */
function temperatureEffect(raw: readonly Raw[]): number | null {
  const slopes: number[] = [];
  const weights: number[] = [];
  let before: Raw | undefined;
  for (const now of raw) {
    if (now.temperatureC === null || now.atCeiling || !now.sure) continue;
    if (before !== undefined && now.day - before.day <= NEIGHBOURS_DAYS) {
      const warmer = now.temperatureC - before.temperatureC!;
      if (Math.abs(warmer) >= 0.5) {
        slopes.push((now.value - before.value) / warmer);
        weights.push(Math.abs(warmer));
      }
    }
    before = now;
  }
  if (slopes.length < LEAST_COMPARISONS)
    return raw.some((one) => one.temperatureC !== null) ? USUAL_EFFECT : null;
  const [least, most] = COEFFICIENT_RANGE;
  return Math.min(most, Math.max(least, weightedMedian(slopes, weights)));
}

/**
 * One value a week: the median of sure dry readings; the upper quarter where wetness is unknown, since water only lowers.
 */
function weekly(
  readings: readonly { readonly day: number; readonly value: number; readonly sure: boolean }[],
): { day: number; value: number }[] {
  const weeks: { day: number; value: number }[] = [];
  const number = ({ day }: { readonly day: number }): number => Math.floor(day / WEEK);
  const sureWeeks = new Set(readings.filter(({ sure }) => sure).map(number));
  const sureEnough = sureWeeks.size >= SURE_WEEKS * new Set(readings.map(number)).size;
  let start = 0;
  while (start < readings.length) {
    const week = number(readings[start]!);
    let end = start;
    while (end < readings.length && number(readings[end]!) === week) end++;
    const all = readings.slice(start, end);
    const sure = all.filter((reading) => reading.sure);
    start = end;
    if (sure.length === 0 && sureEnough) continue;
    const used = sure.length > 0 ? sure : all;
    const sorted = Float64Array.from(used, ({ value }) => value).sort();
    weeks.push({
      day: week * WEEK + (WEEK - 1) / 2,
      value: quantileOfSorted(sorted, sure.length > 0 ? 0.5 : 0.75),
    });
  }
  return weeks;
}
