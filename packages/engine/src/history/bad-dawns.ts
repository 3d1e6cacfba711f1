import { dateOfDay, monthOfDay } from "./local-day.ts";
import type { Standing } from "./signs.ts";

/** A wet morning is followed for at most this many days ahead. */
const AHEAD_DAYS = 365;
const MONTHS = 12;
/** Only the newest wet mornings say how deep they fall now. */
const PRESENT_DAYS = 270;
const LEAST_WET = 8;

/** Mornings on which the insulation check is likely to fall below the threshold. */
export interface BadDawns {
  /** Chance that a wet morning falls below. */
  readonly belowWhenWet: number;
  /** Expected number in each coming month, YYYY-MM. */
  readonly months: readonly { readonly month: string; readonly expected: number }[];
  /** First days by which one has come with probability one half, and nine tenths; null: not within a year. */
  readonly evenChance: string | null;
  readonly likely: string | null;
}

/**
 * When wet mornings will fall below the threshold, from how often each month was wet and how deep wet mornings fall now.
 * Mornings are counted as independent; in truth wet ones come in spells, so the dates are early rather than late.
 *
 * @returns null where wetness or threshold is not known, or too few mornings were wet
 */
export function badDawnsOf(standings: readonly Standing[], thresholdLog10: number | null): BadDawns | null {
  const last = standings.at(-1)?.morning.day;
  if (thresholdLog10 === null || last === undefined) return null;
  const present = standings.filter(
    ({ morning }) => morning.wetness === "wet" && morning.day > last - PRESENT_DAYS,
  );
  if (present.length < LEAST_WET) return null;
  const below = present.filter(({ morning }) => morning.lowest < thresholdLog10).length;
  // Jeffreys' middle, so that none in eight is not called never.
  const belowWhenWet = (below + 0.5) / (present.length + 1);
  const wetIn = wetByMonth(standings);
  const months: { month: string; expected: number }[] = [];
  let none = 1;
  let [evenChance, likely]: [string | null, string | null] = [null, null];
  for (let ahead = 1; ahead <= AHEAD_DAYS; ahead++) {
    const month = monthOfDay(last + ahead);
    const chance = wetIn[month]! * belowWhenWet;
    if (month !== monthOfDay(last + ahead - 1) || ahead === 1)
      months.push({ month: dateOfDay(last + ahead).slice(0, 7), expected: 0 });
    months.at(-1)!.expected += chance;
    none *= 1 - chance;
    if (none <= 0.5) evenChance ??= dateOfDay(last + ahead);
    if (none <= 0.1) likely ??= dateOfDay(last + ahead);
  }
  return { belowWhenWet, months, evenChance, likely };
}

/** Share of mornings that were wet, month by month; a month that was never seen takes the year's. */
function wetByMonth(standings: readonly Standing[]): readonly number[] {
  const wet = new Float64Array(MONTHS);
  const all = new Float64Array(MONTHS);
  for (const { morning } of standings) {
    if (morning.wetness === "unknown") continue;
    const month = monthOfDay(morning.day);
    all[month]!++;
    if (morning.wetness === "wet") wet[month]!++;
  }
  const year = (wet.reduce((a, b) => a + b, 0) + 0.5) / (all.reduce((a, b) => a + b, 0) + 1);
  // Ten mornings' worth of the whole year steady a month with few.
  return Array.from(wet, (count, month) => (count + 10 * year) / (all[month]! + 10));
}
