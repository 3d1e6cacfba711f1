import type { CodePage } from "../refusal.ts";

/** Why a step of a drill was refused. */
export const drillCodes = {
  DRILL_INSTANT_INVALID: {
    title: "The instant of a drill is unsound",
    meaning: "A drill and its answers are dated in whole milliseconds since 1970 in UTC.",
    next: "Give the instant at which the step was taken.",
  },
  DRILL_NAME_MISSING: {
    title: "Nobody's name is given",
    meaning: "A drill on demand is started by a named person.",
    next: "Give the name of the person.",
  },
  DRILL_NOBODY_TO_TELL: {
    title: "The drill reaches nobody",
    meaning:
      "Everybody on the path is away, has left the post or is not known, so nothing would be rehearsed.",
    next: "Name recipients who are there, or hold the drill when they are.",
  },
  DRILL_PERSON_UNKNOWN: {
    title: "The answer comes from somebody who takes no part",
    meaning: "Only recipients of the drill can prove by their answer that it reached them.",
    next: "Check the name. If this person should be told of faults, add them to the path.",
  },
  DRILL_ANSWER_EARLY: {
    title: "The answer is older than the drill",
    meaning: "Nobody can answer a drill before it began.",
    next: "Check the instant of the answer.",
  },
  DRILL_BEACON_UNKNOWN: {
    title: "The drill lights no such beacon",
    meaning: "A drill lights the beacons in which its path ended when it began.",
    next: "Check the id of the beacon. One that was set up since takes part in the next drill.",
  },
  DRILL_BEACON_NOT_LIT: {
    title: "The drill did not light the beacon then",
    meaning:
      "Only what was seen while the drill lit the beacon proves that it can be seen. It goes out when it was seen, when everybody has acknowledged, or after the time set for it.",
    next: "Give the time at which it was seen to burn, or hold the drill again and look.",
  },
} as const satisfies Readonly<Record<`DRILL_${string}`, CodePage>>;

export type DrillCode = keyof typeof drillCodes;
