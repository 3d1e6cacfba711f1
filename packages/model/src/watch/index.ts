/**
 * The pure heart of the watch: from a reading to a sign, from a sign to an alarm, from an alarm to a case, and from a
 * case to "should somebody be told now, and why". No clock, no disk: instants are arguments, effects are data.
 */
export * from "./alarm/index.ts";
export * from "./case/index.ts";
export { WATCH_CODES, type WatchCode } from "./codes.ts";
export * from "./detect/index.ts";
export * from "./drill/index.ts";
export type { Effect } from "./effect.ts";
export type { Grounds, NamedLimit } from "./grounds.ts";
export { type Limit, type LimitName, WATCH_LIMITS, type WatchLimits } from "./limits.ts";
export * from "./notify/index.ts";
export {
  arraysConcerned,
  checkReading,
  datedByArrival,
  type ReadingKind,
  type ReadingQuality,
  type ReadingRefusal,
  type ReadingResult,
  type ReadingUnit,
  type WatchReading,
} from "./reading.ts";
export type { ReadingCode } from "./reading-codes.ts";
export type { CodePage, Refusal } from "./refusal.ts";
export { type Sign, type SignKind, SIGNS, type SignTraits, type Subject } from "./sign.ts";
export * from "./storm/index.ts";
export {
  lifeEveryMinOf,
  type PathWatch,
  recipientSigns,
  signOfLife,
  supervise,
  type Supervision,
  watchPath,
} from "./supervision.ts";
export { nextSunriseAt, type SunOfDay, sunOfDay, type SunPlace } from "./time/sunrise.ts";
