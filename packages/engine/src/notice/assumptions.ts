import type { WeeklyHours } from "../assess/site.ts";
import type { Sourced } from "../provenance.ts";

const ours = {
  source: "default of this program; replace it from the site's own record",
  tag: "design choice",
} as const;

/** Days from Monday to `lastDay` (1 to 7), the same hours each. */
export function dailyHours(fromHour: number, toHour: number, lastDay = 7): WeeklyHours {
  return Array.from({ length: lastDay }, (_, day) => ({
    fromMinute: day * 1440 + fromHour * 60,
    toMinute: day * 1440 + toHour * 60,
  }));
}

/**
 * Everything the time to notice takes for granted where the site file is silent, at the unfavourable end, each value
 * with its tag. No open study gives times to notice by channel: these are to be replaced from the site's own drills.
 */
export const NOTICE_ASSUMPTIONS = {
  /** Share of faults born wet, around dawn. */
  dawnWetShare: { value: 0.4, ...ours },
  /** Share born in daylight, by sun, wind or work. */
  daylightShare: { value: 0.3, ...ours },
  /** A wet fault is born between this long before sunrise … */
  dewBeforeSunriseMin: { value: 180, ...ours },
  /** … and this long after. */
  dewAfterSunriseMin: { value: 60, ...ours },
  /** Share of faults that are hard, below 1 kΩ, when they appear: the others grow from a wet or chafed place. */
  hardFaultShare: { value: 0.1, ...ours },
  /** From sunrise to the inverter's start and its insulation check. */
  startAfterSunriseMin: { value: 20, ...ours },
  readingHours: { value: dailyHours(9, 17, 5), ...ours },
  looksPerDay: { value: 1, ...ours },
  /** A recipient never heeds a message sent once: alerts missed 14.6 to 23.8 % in a study of 20 telephone users. */
  neverHeedsSingle: { value: 0.24, source: "study of 20 users and 10,372 notifications", tag: "published" },
  /** A recipient never heeds a message that is repeated. */
  neverHeedsRepeated: { value: 0.05, ...ours },
  linkAvailability: { value: 0.9, ...ours },
  linkOutageMin: { value: 1440, ...ours },
  /** From the report that a link went quiet until somebody has looked at the site. */
  checkAfterSilenceMin: { value: 1440, ...ours },
  /** Somebody within earshot reacts, times an hour. */
  reactionsPerHour: { value: 6, ...ours },
  /** An unsupervised loop is dead without anybody knowing. */
  loopDeadUnsupervised: { value: 0.05, ...ours },
  /** Somebody in view of a beacon looks that way, times an hour: a light does not call as a sound does. */
  beaconNoticesPerHour: { value: 2, ...ours },
  /** A supervised or fail-safe loop is dead. */
  loopDeadSupervised: { value: 0.005, ...ours },
  /** Nobody on site knows what the sounder or the light means: the owner was told / was not. */
  unawareTold: { value: 0.04, ...ours },
  unawareUntold: { value: 0.25, ...ours },
  /** Hours in which people pass the inverter. */
  passingHours: { value: dailyHours(7, 19), ...ours },
  /** Share of passes in which the light is looked at. */
  looksAtLightShare: { value: 0.5, ...ours },
  /** Share of the time in which nobody is on the site for a week: two weeks a year. */
  siteEmptyShare: { value: 2 / 52, ...ours },
  siteEmptyMin: { value: 7 * 1440, ...ours },
} as const satisfies Readonly<Record<string, Sourced<number | WeeklyHours>>>;
