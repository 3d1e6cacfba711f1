import { count, map, number } from "../fields/plain-fields.ts";
import type { Limit } from "../watch/limit.ts";
import type { LimitName, WatchLimits } from "../watch/limits.ts";
import { duration } from "./settings-fields.ts";

/** Limits of the watch that a desk may set for itself; those that make detectors what they are stay as they are. */
export const limits = map({
  acknowledgementHolds: duration("1 h", "7 d").exactOptional(),
  repeatEvery: duration("5 min", "24 h").exactOptional(),
  upkeepRepeatEvery: duration("1 h", "30 d").exactOptional(),
  furtherSignAfter: duration("1 min", "2 h").exactOptional(),
  settledAfter: duration("1 min", "24 h").exactOptional(),
  unsignedReminderEvery: duration("1 d", "90 d").exactOptional(),
  staleAfter: duration("1 h", "30 d").exactOptional(),
  longestShelf: duration("1 h", "7 d").exactOptional(),
  longestMaintenance: duration("1 h", "30 d").exactOptional(),
  drillAnswerWithin: duration("5 min", "7 d").exactOptional(),
  drillBeaconBurns: duration("1 min", "24 h").exactOptional(),
  lifeGrace: duration("1 min", "24 h").exactOptional(),
  clockAhead: duration("1 min", "24 h").exactOptional(),
  floodWindow: duration("1 min", "24 h").exactOptional(),
  floodAlarms: count(2, 10_000).exactOptional(),
  commonCauseSites: count(2, 1000).exactOptional(),
  messagesPerRound: count(1, 1000).exactOptional(),
  insulationReturnRatio: number(1, 10).exactOptional(),
});

const [MIN, HOUR, DAY] = [1, 60, 1440];

/** Which limit each field sets, and how many of the field's units (minutes, or counts) one of the limit's unit has. */
const SETS = {
  acknowledgementHolds: ["acknowledgementHoldsH", HOUR],
  repeatEvery: ["repeatMin", MIN],
  upkeepRepeatEvery: ["upkeepRepeatMin", MIN],
  furtherSignAfter: ["furtherSignMin", MIN],
  settledAfter: ["settledMin", MIN],
  unsignedReminderEvery: ["unsignedReminderD", DAY],
  staleAfter: ["staleAfterH", HOUR],
  longestShelf: ["shelfLongestH", HOUR],
  longestMaintenance: ["maintenanceLongestD", DAY],
  drillAnswerWithin: ["drillAnswerMin", MIN],
  drillBeaconBurns: ["drillBeaconMin", MIN],
  lifeGrace: ["lifeGraceMin", MIN],
  clockAhead: ["clockAheadMin", MIN],
  floodWindow: ["floodWindowMin", MIN],
  floodAlarms: ["floodAlarms", 1],
  commonCauseSites: ["commonCauseSites", 1],
  messagesPerRound: ["messagesPerRound", 1],
  insulationReturnRatio: ["insulationReturnRatio", 1],
} as const satisfies Readonly<Record<keyof (typeof limits)["shape"], readonly [LimitName, number]>>;

/** The limits in force at a desk: its own where it states them, with the settings as their source. */
export function limitsInForce(
  base: WatchLimits,
  stated: Readonly<Partial<Record<keyof typeof SETS, number>>>,
  file: string,
): WatchLimits {
  const own = Object.entries(SETS).flatMap(([field, [name, size]]): [LimitName, Limit][] => {
    const value = stated[field as keyof typeof SETS];
    if (value === undefined) return [];
    const { unit } = base[name];
    return [[name, { value: value / size, unit, source: `${file}, limits.${field}`, tag: "user" }]];
  });
  return { ...base, ...Object.fromEntries(own) };
}
