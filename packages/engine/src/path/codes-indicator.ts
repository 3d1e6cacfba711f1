import type { PathCodeEntry } from "./code-entry.ts";

const practice = { source: "trade practice", tag: "common practice" } as const;
const ours = { source: "rule of this program", tag: "design choice" } as const;

/** Findings about the inverter's own light. */
export const indicatorCodes = {
  PATH_INDICATOR_PLACE_UNKNOWN: {
    title: "Where the inverter stands is not stated",
    meaning: "Its light counts only where somebody will notice it, and that cannot be judged.",
    next: "Record where the inverter is, how often a day somebody passes, and from how far the light is seen.",
    severity: "caution",
    effect: "cannot-tell",
    ...practice,
  },
  PATH_INDICATOR_HIDDEN: {
    title: "The inverter is not where people can go",
    meaning: "A light behind a locked door, in a loft or in a plant room alarms nobody.",
    next: "Move the inverter, or use a message or an annunciator.",
    severity: "fault",
    effect: "falls-short",
    ...practice,
  },
  PATH_INDICATOR_NOBODY_PASSES: {
    title: "Nobody passes the inverter",
    meaning: "With no passes in a day the light is never seen.",
    next: "Use a message or an annunciator, or repeat the light where people pass.",
    severity: "fault",
    effect: "falls-short",
    ...practice,
  },
  PATH_INDICATOR_RARELY_PASSED: {
    title: "Somebody passes the inverter less than once a day",
    meaning: "A fault is seen days after it appears, if at all.",
    next: "Add a message, or repeat the light where people pass daily.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_INDICATOR_PASSES_UNKNOWN: {
    title: "How often somebody passes is not stated",
    meaning: "Without it nobody can say whether the light is noticed.",
    next: "Ask the occupants and record the passes in a day.",
    severity: "caution",
    effect: "cannot-tell",
    ...ours,
  },
  PATH_INDICATOR_TOO_FAR: {
    title: "The light is too far away to be seen by day",
    meaning: "At this distance a small indicator falls below what an eye finds against daylight.",
    next: "Repeat the light nearer, or use a message or an annunciator.",
    severity: "fault",
    effect: "falls-short",
    source: "illuminance at the eye I/d² against a daylight threshold; 0.1 cd and 1 mlx",
    tag: "memory",
  },
  PATH_INDICATOR_DISTANCE_UNKNOWN: {
    title: "From how far the light is seen is not stated",
    meaning:
      "The distance decides whether a small light is seen by day at all, so the path cannot be judged without it.",
    next: "Measure the distance from where people pass and record it.",
    severity: "caution",
    effect: "cannot-tell",
    ...ours,
  },
  PATH_INDICATOR_ACCESS_UNKNOWN: {
    title: "Whether people can get to the inverter is not stated",
    meaning: "Passes are recorded, so it is taken as reachable; a locked door would change that.",
    next: "Record whether the place is open to the people who pass.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
} as const satisfies Readonly<Record<`PATH_${string}`, PathCodeEntry>>;
