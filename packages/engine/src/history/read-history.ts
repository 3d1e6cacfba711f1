import { type Advice, adviceFor } from "./advice.ts";
import { type BadDawns, badDawnsOf } from "./bad-dawns.ts";
import { classify } from "./classify.ts";
import { type DryLevel, dryLevel } from "./dry-level.ts";
import { evidenceFor } from "./evidence.ts";
import { type Forecast, forecastOf } from "./forecast.ts";
import { type InstrumentEnds, instrumentEnds } from "./instrument-ends.ts";
import { dateOfDay } from "./local-day.ts";
import { type LevelChange, levelChanges } from "./level-changes.ts";
import { type Morning, morningsOf } from "./mornings.ts";
import type { HistoryContext, HistorySeries } from "./reading.ts";
import { type Signs, signsOf } from "./signs.ts";
import { type Doubt, soundReadings } from "./sound-readings.ts";
import { quantile } from "./statistics/quantile.ts";
import { type Trend, trendOf } from "./trend.ts";
import type { Trouble } from "./weigh.ts";

const LATELY_DAYS = 90;

/** What a history says. Resistances in Ω, log10 where named so. */
export interface HistoryFinding {
  readonly format: "earthbell.history/1";
  readonly array: string;
  /** First and last local date with a reading; null without any. */
  readonly from: string | null;
  readonly to: string | null;
  readonly mornings: number;
  readonly wetness: { readonly wet: number; readonly dry: number; readonly unknown: number };
  readonly instrument: InstrumentEnds;
  readonly doubts: readonly Doubt[];
  readonly verdict: Trouble;
  readonly probabilities: Readonly<Record<Trouble, number>>;
  readonly evidence: string;
  readonly newestOhms: number | null;
  /** Mornings below the threshold in the newest ninety days, and the last of them; null without a threshold. */
  readonly belowLately: {
    readonly below: number;
    readonly mornings: number;
    /** Local date; null where none was below. */
    readonly lastOn: string | null;
  } | null;
  /** Present dry level; `atLeast` where most dry readings are at the ceiling. */
  readonly dryLevel: { readonly ohms: number; readonly atLeast: boolean } | null;
  readonly decadesPerKelvin: number | null;
  readonly changes: readonly LevelChange[];
  readonly trend: Trend | null;
  readonly threshold: HistoryContext["threshold"] | null;
  readonly forecast: Forecast | null;
  readonly badDawns: BadDawns | null;
  readonly advice: readonly Advice[];
}

/** A finding with what a picture or a watch needs beside it. */
export interface ReadHistory {
  readonly finding: HistoryFinding;
  readonly mornings: readonly Morning[];
  readonly level: DryLevel;
  readonly signs: Signs | null;
}

/**
 * Reads one array's insulation history: what kind of trouble, how sure, and when it will cross the threshold.
 *
 * Readings may come in any order, with gaps, repetitions and values that no resistance has; each doubt is told. Values at
 * the instrument's ceiling are censored: that or more. Temperature and season are taken out to compare, never to pass a
 * reading.
 *
 * @throws RangeError for a zone that this system does not know
 * Accuracy: bench/results/history-accuracy.md. Check of the statistics: checks/history-statistics
 */
export function readHistory(series: HistorySeries, context: HistoryContext): ReadHistory {
  const sound = soundReadings(series.readings);
  const ends = instrumentEnds(sound.readings, context);
  const mornings = morningsOf(sound.readings, context.timezone, ends);
  const ceiling = ends.ceilingOhms === null ? null : Math.log10(ends.ceilingOhms);
  const level = dryLevel(mornings, ceiling);
  const signs = mornings.length === 0 || level.weeks.length === 0 ? null : signsOf(mornings, level);
  const { verdict, probabilities } = classify(mornings, signs, sound);
  const told = verdict !== "too-little-data" && signs !== null;
  const changes = told ? levelChanges(level, signs.shape, verdict) : [];
  const trend = told ? trendOf(level, trendBegins(signs, level, verdict)) : null;
  const known = { mornings, signs, level, trend, sound };
  const newest = mornings.at(-1);
  const threshold = context.threshold === undefined ? null : Math.log10(context.threshold.value);
  return {
    finding: {
      format: "earthbell.history/1",
      array: series.array,
      from: mornings[0] === undefined ? null : dateOfDay(mornings[0].day),
      to: newest === undefined ? null : dateOfDay(newest.day),
      mornings: mornings.length,
      wetness: countWetness(mornings),
      instrument: ends,
      doubts: sound.doubts,
      verdict,
      probabilities,
      evidence: evidenceFor(verdict, known),
      newestOhms: newest === undefined ? null : 10 ** newest.lowest,
      belowLately: belowLately(mornings, threshold),
      dryLevel: dryLevelNow(level, signs),
      decadesPerKelvin: level.decadesPerK,
      changes,
      trend,
      threshold: context.threshold ?? null,
      forecast:
        trend === null || verdict === "sensor" ? null : forecastFor(trend, signs!, verdict, threshold),
      badDawns: told ? badDawnsOf(signs.standings, threshold) : null,
      advice: adviceFor(verdict, newest !== undefined && threshold !== null && newest.lowest < threshold),
    },
    mornings,
    level,
    signs,
  };
}

function belowLately(mornings: readonly Morning[], threshold: number | null): HistoryFinding["belowLately"] {
  const newest = mornings.at(-1);
  if (threshold === null || newest === undefined) return null;
  const lately = mornings.filter(({ day }) => day > newest.day - LATELY_DAYS);
  const below = lately.filter(({ lowest }) => lowest < threshold);
  const last = below.at(-1);
  return {
    below: below.length,
    mornings: lately.length,
    lastOn: last === undefined ? null : dateOfDay(last.day),
  };
}

function countWetness(mornings: readonly Morning[]): HistoryFinding["wetness"] {
  const count = { wet: 0, dry: 0, unknown: 0 };
  for (const { wetness } of mornings) count[wetness]++;
  return count;
}

function dryLevelNow({ weeks }: DryLevel, signs: Signs | null): HistoryFinding["dryLevel"] {
  if (weeks.length === 0) return null;
  const value = quantile(
    weeks.slice(-8).map((week) => week.value),
    0.5,
  );
  return { ohms: 10 ** value, atLeast: (signs?.ceilingShare ?? 0) > 0.5 };
}

/** A slope is measured from where the present stretch begins. */
function trendBegins({ shape }: Signs, { weeks }: DryLevel, verdict: Trouble): number {
  const explanation = verdict === "progressive" ? shape.slope : shape.kind === "steps" ? shape.steps : null;
  const change = explanation?.changes.at(-1);
  return change === undefined ? -Infinity : weeks[change]!.day;
}

function forecastFor(trend: Trend, signs: Signs, verdict: Trouble, threshold: number | null): Forecast {
  const newest = signs.standings.at(-1)!.morning.day;
  const wet = signs.standings
    .filter(({ morning }) => morning.wetness === "wet" && morning.day > newest - 365)
    .map(({ deficit }) => deficit);
  const depth = wet.length < 8 ? Number.NaN : quantile(wet, 0.9);
  return forecastOf(trend, verdict === "progressive", depth, threshold);
}
