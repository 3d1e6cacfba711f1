import type { PathCodeEntry } from "./code-entry.ts";

const ours = { source: "rule of this program", tag: "design choice" } as const;
const range = {
  source: "illuminance at the eye I/d² against marine signalling thresholds; flashes by Blondel and Rey",
  tag: "memory",
} as const;

/** Findings about a beacon or lamp. */
export const lightCodes = {
  PATH_LIGHT_UNKNOWN: {
    title: "Whether the light is seen cannot be judged",
    meaning: "A value that decides from how far it is found is missing.",
    next: "Record the values named: the light's data sheet has its intensity.",
    severity: "caution",
    effect: "cannot-tell",
    ...ours,
  },
  PATH_LIGHT_BLOCKED: {
    title: "Something stands between the light and the people",
    meaning: "Light does not pass a wall or a door.",
    next: "Put the light in view of the people, or use a sounder.",
    severity: "fault",
    effect: "falls-short",
    ...ours,
  },
  PATH_LIGHT_DIM: {
    title: "The light is too weak to be found from where people are",
    meaning: "At this distance it falls below what an eye finds against its surroundings.",
    next: "Move it nearer, choose a brighter one, or use a sounder.",
    severity: "fault",
    effect: "falls-short",
    ...range,
  },
  PATH_LIGHT_FIGURES: {
    title: "How far the light is found by day and by night",
    meaning: "Worked out for clear air and the intensity towards the people.",
    next: "See it from where people are, by day, in a drill.",
    severity: "note",
    effect: "none",
    ...range,
  },
  PATH_LIGHT_RED: {
    title: "A red light that somebody blind to red does not find",
    meaning: "To about one man in a hundred a red light is much darker than to others.",
    next: "Choose an amber or white light, or add a sound.",
    severity: "caution",
    effect: "none",
    source: "luminous efficiency of the red-blind eye at 630 nm",
    tag: "memory",
  },
  PATH_LIGHT_FLASH_RATE: {
    title: "The light flashes at a rate that means nothing",
    meaning: "It is neither a slow nor a normal flash of the usual two.",
    next: "Set it to 24 to 48 or 84 to 168 flashes a minute, and never above three a second.",
    severity: "caution",
    effect: "none",
    source: "IEC 60073",
    tag: "memory",
  },
  PATH_LIGHT_ASSUMED: {
    title: "A value of the light is assumed",
    meaning: "The site file does not state it, and it is taken at the unfavourable end.",
    next: "Record what is so here.",
    severity: "note",
    effect: "none",
    ...ours,
  },
} as const satisfies Readonly<Record<`PATH_${string}`, PathCodeEntry>>;
