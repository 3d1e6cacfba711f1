import { DRILL_LIMITS } from "./drill/drill-limits.ts";
import { lifecycle, type Limit, ours } from "./limit.ts";

/**
 * Every limit by which the watch decides. The tag says which ones to replace from one's own copy of a standard.
 *
 * The lifecycle's own test for chatter misses a wet earth fault, which cycles once a day: hence the rule of mornings.
 */
export const WATCH_LIMITS = {
  /** Insulation counts as back once it is this many times its threshold, so that a value at the edge does not flap. */
  insulationReturnRatio: { value: 1.25, unit: "ratio", ...ours },
  /** A fault recurs by dawn when it began on this many mornings … */
  recurringMornings: { value: 3, unit: "mornings", ...ours },
  /** … of so many days in a row, the present one included. */
  recurringDays: { value: 7, unit: "days", ...ours },
  /** The morning ends at this minute of the local day: dew is gone by then, and an inverter has started. */
  morningEndsMin: { value: 720, unit: "min", ...ours },
  /** The same insulation to the digit on so many days with checks means that the detector is stuck. */
  stuckDays: { value: 5, unit: "days", ...ours },
  /** The morning's check is missed at the end of the morning, and no sooner than this long after sunrise. */
  checkAfterSunriseMin: { value: 180, unit: "min", ...ours },
  /** Insulation drifts when its recent level falls below this share of the level before: 10 K of warming halves it. */
  driftRatio: { value: 1 / 3, unit: "ratio", ...ours },
  driftRecentDays: { value: 7, unit: "days", ...ours },
  driftEarlierDays: { value: 21, unit: "days", ...ours },
  driftLeastRecent: { value: 5, unit: "days", ...ours },
  driftLeastEarlier: { value: 14, unit: "days", ...ours },
  /** An alarm chatters when it goes from active to clear this often … */
  chatterClears: { value: 3, unit: "times", ...lifecycle },
  /** … within this time, both ends counted. */
  chatterWindowS: { value: 60, unit: "s", ...lifecycle },
  /** A chattering alarm counts as active until it has kept still for this long. */
  chatterQuietMin: { value: 10, unit: "min", ...ours },
  /** An alarm that has been active for longer than this is stale. */
  staleAfterH: { value: 24, unit: "h", ...lifecycle },
  /** An acknowledgement keeps an active alarm quiet for this long. */
  acknowledgementHoldsH: { value: 24, unit: "h", ...ours },
  /** Longest shelf, and the limit where the next sunrise is later or is not known. */
  shelfLongestH: { value: 24, unit: "h", ...ours },
  maintenanceLongestD: { value: 7, unit: "d", ...ours },
  suppressionLongestH: { value: 24, unit: "h", ...ours },
  /** A fault of the same array this soon after a signed close is linked to the closed case. */
  recurrenceD: { value: 30, unit: "d", ...ours },
  /** Interval of repeats where the path does not state one. */
  repeatMin: { value: 60, unit: "min", source: "trade practice", tag: "common practice" },
  /** Interval of repeats for what is no earth fault: a detector or a path that wants looking after. */
  upkeepRepeatMin: { value: 1440, unit: "min", ...ours },
  /** Signs of one fault come in groups: a further kind of sign waits this long after the message before. */
  furtherSignMin: { value: 10, unit: "min", ...ours },
  /** A fault is told as cleared once it has stayed clear for this long. */
  settledMin: { value: 30, unit: "min", ...ours },
  /** A cleared fault that nobody has signed is brought to mind this often. */
  unsignedReminderD: { value: 7, unit: "d", ...ours },
  /** More alarms than this … */
  floodAlarms: { value: 10, unit: "alarms", ...lifecycle },
  /** … within this time are a flood: they are told in groups. */
  floodWindowMin: { value: 10, unit: "min", ...lifecycle },
  /** Sites that share a cause before they are told as one group. */
  commonCauseSites: { value: 3, unit: "sites", ...ours },
  /** Most messages that one round sends to one person. */
  messagesPerRound: { value: 10, unit: "messages", ...ours },
  ...DRILL_LIMITS,
  /** A sign of life may be late by this share of its interval … */
  lifeGraceRatio: { value: 0.1, unit: "ratio", ...ours },
  /** … and by at least this. */
  lifeGraceMin: { value: 5, unit: "min", ...ours },
  /** A clock in the field may be ahead by this; a reading from further ahead is dated by its arrival. */
  clockAheadMin: { value: 5, unit: "min", ...ours },
} as const satisfies Readonly<Record<string, Limit>>;

export type LimitName = keyof typeof WATCH_LIMITS;

/** The limits in force: the ones above, or a copy in which some are replaced. */
export type WatchLimits = Readonly<Record<LimitName, Limit>>;
