/**
 * The pure heart of the watch. No clock, no disk: instants are arguments, effects are data, every record is plain JSON.
 *
 *   checkReading, datedByArrival, arraysConcerned    what a listener hears becomes a reading of an array
 *   detectReading, detectHour, supervise             a reading, or the hour, becomes signs
 *   transition                                       a sign, or a person, moves an alarm
 *   followAlarm, caseStep                            alarms and people move the case of the array
 *   mattersOf, tellRound, planMessages               who is told now, why, and when to look again
 *
 * The first four steps and the messages that follow from them belong into one transaction. A delivery is recorded after it
 * was sent, never before.
 */
export * from "./alarm/index.ts";
export * from "./case/index.ts";
export { WATCH_CODES, type WatchCode } from "./codes.ts";
export * from "./detect/index.ts";
export * from "./drill/index.ts";
export type { Effect } from "./effect.ts";
export type { Grounds, NamedLimit } from "./grounds.ts";
export type { Limit } from "./limit.ts";
export { type LimitName, WATCH_LIMITS, type WatchLimits } from "./limits.ts";
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
export { isUnproved, isUnserved, newestProofOn } from "./site-needs.ts";
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
export { type LocalTime, localTime } from "./time/zone.ts";
