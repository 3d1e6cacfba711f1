import { daylight } from "./daylight.ts";
import { detections } from "./detection.ts";
import { HORIZON_MIN } from "./lags.ts";
import { answerOf, falling, type NoticeAnswer } from "./notice-answer.ts";
import type { NoticeModel, NoticeVariant } from "./notice-model.ts";
import { type OnsetAverage, onsetAverage, type Spread } from "./onset-average.ts";
import { onsetsOfWindow } from "./onset.ts";
import { signalPlan } from "./signal-plan.ts";
import { dayNumberOf, periodsBetween, watchOf } from "./watch.ts";

const DAY = 1440;
const YEAR_DAYS = 365;
/** Faults detected at their birth are followed every four hours of every day, each day at other minutes. */
const DIRECT_STEP_MIN = 240;
/** Where fewer days are followed, each is followed more closely, down to this step. */
const LEAST_STEP_MIN = 80;
/** Every second day reaches each weekday 26 times a year. */
const EVERY_DAYS = 2;

export interface NoticeOptions {
  /** Combinations of channel names to answer for; default: each channel alone, then all together. */
  readonly combinations?: readonly (readonly string[])[];
  /** Onsets of every n-th day of the year, 1 to 30; n should not be a multiple of 7. Default 2. */
  readonly everyDays?: number;
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
 * `timeToNotice` of several models that differ in their links, people and channels only, for little more than the price of
 * one: what two of them have in common is worked out once.
 *
 * @param variants  at least one; place, year, onset and detector of the first count for all
 * @returns for each variant its answers, in the order asked
 */
export function timesToNotice(
  variants: readonly NoticeVariant[],
  options: Pick<NoticeOptions, "everyDays"> = {},
): readonly (readonly NoticeAnswer[])[] {
  const everyDays = Math.max(1, Math.min(30, Math.round(options.everyDays ?? EVERY_DAYS)));
  const { model } = variants[0]!;
  const firstDay = dayNumberOf(model.yearFrom);
  const from = (firstDay - 3) * DAY;
  const to = (firstDay + YEAR_DAYS + 3) * DAY + HORIZON_MIN;
  const periodsIn = periodsBetween(from, to, model.longitudeDeg);
  const watch = watchOf(
    variants.map((variant) => variant.model),
    periodsIn,
  );
  const plan = signalPlan(variants, watch);
  const average = onsetAverage(plan, Math.max(LEAST_STEP_MIN, DIRECT_STEP_MIN / Math.max(1, everyDays / 4)));
  const days = daylight(model, periodsIn(model.timezone));
  let total = 0;
  for (const { day, weight } of sampledDays(firstDay, everyDays))
    total += addWindow(day, weight, model, days, average);
  return variants.map(({ combinations }, v) =>
    combinations.map((ids, c) => answerOf(ids, falling(average.survival[plan.asked[v]![c]!]!, total))),
  );
}

/**
 * Time from the birth of an earth fault to the moment a person knows, T = T_detect + T_signal, over a year of onsets.
 *
 * Onsets are spread over each day as the model says, detection follows sunrise at the place, and each watcher notices
 * at a rate while active, on wall-clock hours with daylight saving. A fault is taken to last; an outage or an empty
 * site in force at detection runs to its end and no second one follows.
 *
 * @returns one answer for each combination of channels, in the order asked
 * Accuracy: against a simulation, 0.002 in probability with every day and 0.004 by default; by every eighth day 0.007 at
 * moderate latitudes, and up to 0.03 beyond the polar circles or with people away for weeks.
 * Check: checks/notice-monte-carlo, checks/notice-closed-form
 */
export function timeToNotice(model: NoticeModel, options: NoticeOptions = {}): readonly NoticeAnswer[] {
  const all = model.channels.map((channel) => channel.id);
  const combinations = options.combinations ?? [...all.map((id) => [id]), ...(all.length > 1 ? [all] : [])];
  return timesToNotice([{ model, combinations }], options)[0]!;
}
