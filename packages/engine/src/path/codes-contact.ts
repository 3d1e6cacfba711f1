import type { PathCodeEntry } from "./code-entry.ts";

const ours = { source: "rule of this program", tag: "design choice" } as const;
const rating = {
  source: "direct-current contact practice: the rating holds at its voltage only",
  tag: "memory",
} as const;

/** Findings about the inverter's contact and the fuse of an annunciator loop. */
export const contactCodes = {
  PATH_RELAY_UNKNOWN: {
    title: "The inverter's alarm contact is not on record",
    meaning:
      "An annunciator is switched by a contact; whether this inverter has one, and for what, is not stated.",
    next: "Read the contact's rating and what operates it from the inverter's data and record both.",
    severity: "caution",
    effect: "cannot-tell",
    ...ours,
  },
  PATH_CONTACT_RATING_UNKNOWN: {
    title: "The direct-current rating of the contact is not stated",
    meaning: "An a.c. rating says nothing about breaking direct current.",
    next: "Record the contact's d.c. voltage and current rating.",
    severity: "caution",
    effect: "cannot-tell",
    ...rating,
  },
  PATH_CONTACT_VOLTAGE: {
    title: "The loop voltage is above the contact's rating",
    meaning: "Above its rated voltage a contact may draw an arc that does not go out.",
    next: "Use a lower loop voltage, or an interposing relay rated for it.",
    severity: "fault",
    effect: "falls-short",
    ...rating,
  },
  PATH_CONTACT_CURRENT: {
    title: "The load is more than the contact may carry or break",
    meaning: "The contact burns or welds; welded, it hides or holds the alarm.",
    next: "Fit an interposing relay or a smaller load.",
    severity: "fault",
    effect: "falls-short",
    ...rating,
  },
  PATH_CONTACT_INRUSH: {
    title: "The lamp's inrush is more than the contact may make",
    meaning: "A cold filament draws about ten times its running current for some milliseconds.",
    next: "Use an LED beacon or an interposing relay.",
    severity: "fault",
    effect: "falls-short",
    source: "cold filament resistance, about one tenth of hot",
    tag: "memory",
  },
  PATH_CONTACT_INDUCTIVE: {
    title: "The contact cannot break this inductive load",
    meaning: "Without a diode across the coil the contact's rating falls to about a tenth.",
    next: "Fit a flyback diode across the coil.",
    severity: "fault",
    effect: "falls-short",
    ...rating,
  },
  PATH_FLYBACK_UNKNOWN: {
    title: "No flyback diode on record across the coil",
    meaning: "The contact still bears it, but each break wears it and the spike can upset electronics.",
    next: "Fit a diode across the coil, cathode to the positive side, and record it.",
    severity: "caution",
    effect: "none",
    source: "public practice guide for electrical design, suppressor across relay coils",
    tag: "published",
  },
  PATH_FUSE_UNKNOWN: {
    title: "The loop has no fuse on record",
    meaning: "A battery drives a shorted cable until something burns.",
    next: "Fit a fuse at the supply, at least the load's current and at most what contact and cable bear.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_FUSE_BELOW_LOAD: {
    title: "The fuse is smaller than the load",
    meaning: "The fuse may open the first time the alarm operates.",
    next: "Fit a fuse of at least the load's current.",
    severity: "fault",
    effect: "falls-short",
    ...ours,
  },
  PATH_FUSE_ABOVE_CONTACT: {
    title: "The fuse does not protect the contact",
    meaning: "A shorted cable can weld the contact before the fuse opens.",
    next: "Fit a fuse no larger than the contact's rating, or an interposing relay.",
    severity: "fault",
    effect: "falls-short",
    ...ours,
  },
  PATH_FUSE_ABOVE_CABLE: {
    title: "The fuse does not protect the cable",
    meaning: "A short circuit at the far end overheats the cable before the fuse opens.",
    next: "Fit a smaller fuse or a larger cable.",
    severity: "fault",
    effect: "falls-short",
    source: "4 A per mm², a cautious current density for thin copper in conduit",
    tag: "design choice",
  },
} as const satisfies Readonly<Record<`PATH_${string}`, PathCodeEntry>>;
