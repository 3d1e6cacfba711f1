import { type ActiveSpans, activeSpans } from "./active-spans.ts";
import { daylight } from "./daylight.ts";
import { detections } from "./detection.ts";
import { COARSE_LAGS, HORIZON_MIN } from "./lags.ts";
import type { NoticeModel, NoticeReader } from "./notice-model.ts";
import { type OnsetAverage, onsetAverage, type Spread } from "./onset-average.ts";
import { onsetsOfWindow } from "./onset.ts";
import { signalPlan, type Watcher } from "./signal-plan.ts";
import { fixedOffset, localMidnight, type OffsetPeriod, offsetPeriods } from "./wall-clock.ts";

const DAY = 1440;
const YEAR_DAYS = 365;
/** Faults detected at their birth are followed every four hours of every day, each day at other minutes. */
const DIRECT_STEP_MIN = 240;
/** Where fewer days are followed, each is followed more closely, down to this step. */
const LEAST_STEP_MIN = 80;
/** Every second day reaches each weekday 26 times a year. */
const EVERY_DAYS = 2;

/** How long from the birth of an earth fault until a person knows, averaged over a year of onsets. */
export interface NoticeAnswer {
  /** Channels that work together in this answer. */
  readonly channels: readonly string[];
  /** Hours since onset and the probability that nobody knows yet, falling, to 28 days. */
  readonly curve: readonly { readonly hours: number; readonly unnoticed: number }[];
  /** Hours by which half, and 95 %, of faults are known; null: later than 28 days, or never. */
  readonly medianHours: number | null;
  readonly p95Hours: number | null;
  readonly unnoticedAfter24h: number;
  readonly unnoticedAfter7d: number;
  /** Still unnoticed after 28 days. */
  readonly unnoticedAfter28d: number;
  /** Mean hours, each fault counted for at most 28 days. */
  readonly meanHours: number;
}

export interface NoticeOptions {
  /** Combinations of channel names to answer for; default: each channel alone, then all together. */
  readonly combinations?: readonly (readonly string[])[];
  /** Onsets of every n-th day of the year, 1 to 30; n should not be a multiple of 7. Default 2. */
  readonly everyDays?: number;
}

const dayNumberOf = (date: string): number => Math.floor(Date.parse(`${date}T00:00:00Z`) / 86_400_000);

/** Offsets of a zone, or of the longitude's mean solar time where the zone is absent or unknown. */
function periodsOf(
  timezone: string | undefined,
  longitudeDeg: number | undefined,
  from: number,
  to: number,
): readonly OffsetPeriod[] {
  const known = timezone === undefined ? null : offsetPeriods(timezone, from, to);
  return known ?? fixedOffset(Math.round(4 * (longitudeDeg ?? 0)), from, to);
}

function readerSpans(reader: NoticeReader, periods: readonly OffsetPeriod[]): ActiveSpans {
  const away = reader.away.map(({ from, to }) => ({
    start: localMidnight(dayNumberOf(from), periods),
    end: localMidnight(dayNumberOf(to) + 1, periods),
  }));
  return activeSpans(reader.hours, periods, away);
}

interface Watch {
  readonly watchers: readonly Watcher[];
  /** Index of each watcher by `reader id` or `channel id`. */
  readonly indexOf: ReadonlyMap<string, number>;
}

function watch(
  model: NoticeModel,
  periodsIn: (timezone: string | undefined) => readonly OffsetPeriod[],
): Watch {
  const watchers: Watcher[] = [];
  const indexOf = new Map<string, number>();
  for (const reader of model.readers) {
    indexOf.set(`reader ${reader.id}`, watchers.length);
    const spans = readerSpans(reader, periodsIn(reader.timezone ?? model.timezone));
    watchers.push({ spans, perMinute: reader.looksPerMinute });
  }
  for (const channel of model.channels) {
    if (channel.signal === "message") continue;
    indexOf.set(`channel ${channel.id}`, watchers.length);
    const spans = activeSpans(channel.hours, periodsIn(model.timezone));
    watchers.push({ spans, perMinute: channel.noticesPerMinute });
  }
  return { watchers, indexOf };
}

/** Hours at which the survival has fallen to a level, by linear interpolation; null where it does not. */
function reaches(survival: Float64Array, level: number): number | null {
  if (survival[0]! <= level) return 0;
  for (let k = 1; k < survival.length; k++) {
    const above = survival[k - 1]!;
    const below = survival[k]!;
    if (below > level) continue;
    const part = (above - level) / (above - below);
    return (COARSE_LAGS[k - 1]! + part * (COARSE_LAGS[k]! - COARSE_LAGS[k - 1]!)) / 60;
  }
  return null;
}

/** Survival of all faults gathered, as a probability; it falls, but for rounding. */
function falling(survival: Float64Array, total: number): Float64Array {
  let least = 1;
  return survival.map((unnoticed) => (least = Math.max(0, Math.min(least, unnoticed / total))));
}

function unnoticedAt(survival: Float64Array, minutes: number): number {
  return survival[COARSE_LAGS.indexOf(minutes)]!;
}

function answer(channels: readonly string[], survival: Float64Array): NoticeAnswer {
  let mean = 0;
  for (let k = 1; k < survival.length; k++) {
    mean += ((COARSE_LAGS[k]! - COARSE_LAGS[k - 1]!) * (survival[k]! + survival[k - 1]!)) / 120;
  }
  return {
    channels,
    curve: Array.from(survival, (unnoticed, k) => ({ hours: COARSE_LAGS[k]! / 60, unnoticed })),
    medianHours: reaches(survival, 0.5),
    p95Hours: reaches(survival, 0.05),
    unnoticedAfter24h: unnoticedAt(survival, DAY),
    unnoticedAfter7d: unnoticedAt(survival, 7 * DAY),
    unnoticedAfter28d: unnoticedAt(survival, HORIZON_MIN),
    meanHours: mean,
  };
}

/** Every n-th day of the year; the days sampled on one weekday stand for all days of the year on that weekday. */
function sampledDays(
  firstDay: number,
  everyDays: number,
): readonly { readonly day: number; readonly weight: number }[] {
  const offsets = Array.from({ length: YEAR_DAYS }, (_, offset) => offset);
  const sampled = offsets.filter((offset) => offset % everyDays === 0);
  const ofWeekday = (list: readonly number[], weekday: number): number =>
    list.filter((offset) => offset % 7 === weekday).length;
  const weights = Array.from({ length: 7 }, (_, weekday) => {
    const chosen = ofWeekday(sampled, weekday);
    return chosen === 0 ? 0 : ofWeekday(offsets, weekday) / chosen / YEAR_DAYS;
  });
  const total = sampled.reduce((sum, offset) => sum + weights[offset % 7]!, 0);
  return sampled.map((offset) => ({ day: firstDay + offset, weight: weights[offset % 7]! / total }));
}

/** Add the faults of one window; returns their share, which the average is divided by in the end. */
function addWindow(
  dayNumber: number,
  weight: number,
  { onset, detector }: NoticeModel,
  days: ReturnType<typeof daylight>,
  average: OnsetAverage,
): number {
  const together = new Map<number, Spread[]>();
  const stretches = onsetsOfWindow(dayNumber, days, onset).map(({ from, to, share }) => ({
    from,
    to,
    share: share * weight,
  }));
  for (const found of detections(stretches, dayNumber, detector, days)) {
    if (found.at === "never") average.addUndetected(found.share);
    else if (found.at === "at-onset") average.addDetectedAtOnset(found, dayNumber);
    else {
      const others = together.get(found.at);
      if (others === undefined) together.set(found.at, [found]);
      else others.push(found);
    }
  }
  for (const [at, spreads] of together) average.addDetectedTogether(spreads, at);
  return stretches.reduce((sum, { share }) => sum + share, 0);
}

/**
 * Time from the birth of an earth fault to the moment a person knows, T = T_detect + T_signal, over a year of onsets.
 *
 * Onsets are spread over each day as the model says, detection follows sunrise at the place, and each watcher notices
 * at a rate while active, on wall-clock hours with daylight saving. A fault is taken to last; an outage or an empty
 * site in force at detection runs to its end and no second one follows.
 *
 * @returns one answer for each combination of channels, in the order asked
 * Accuracy: against a simulation, 0.002 in probability with every day and 0.004 by default; by every eighth day 0.006 at
 * moderate latitudes, and up to 0.03 beyond the polar circles or with people away for weeks.
 * Check: checks/notice-monte-carlo, checks/notice-closed-form
 */
export function timeToNotice(model: NoticeModel, options: NoticeOptions = {}): readonly NoticeAnswer[] {
  const everyDays = Math.max(1, Math.min(30, Math.round(options.everyDays ?? EVERY_DAYS)));
  const all = model.channels.map((channel) => channel.id);
  const asked = options.combinations ?? [...all.map((id) => [id]), ...(all.length > 1 ? [all] : [])];
  const firstDay = dayNumberOf(model.yearFrom);
  const from = (firstDay - 3) * DAY;
  const to = (firstDay + YEAR_DAYS + 3) * DAY + HORIZON_MIN;
  const zones = new Map<string, readonly OffsetPeriod[]>();
  const periodsIn = (timezone: string | undefined): readonly OffsetPeriod[] => {
    const key = timezone ?? "";
    const periods = zones.get(key) ?? periodsOf(timezone, model.longitudeDeg, from, to);
    zones.set(key, periods);
    return periods;
  };
  const plan = signalPlan(model, asked, watch(model, periodsIn));
  const average = onsetAverage(plan, Math.max(LEAST_STEP_MIN, DIRECT_STEP_MIN / Math.max(1, everyDays / 2)));
  const days = daylight(model, periodsIn(model.timezone));
  let total = 0;
  for (const { day, weight } of sampledDays(firstDay, everyDays))
    total += addWindow(day, weight, model, days, average);
  return asked.map((ids, c) => answer(ids, falling(average.survival[c]!, total)));
}
