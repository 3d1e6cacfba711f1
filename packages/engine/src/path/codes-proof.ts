import type { PathCodeEntry } from "./code-entry.ts";

const practice = { source: "trade practice", tag: "common practice" } as const;
const ours = { source: "rule of this program", tag: "design choice" } as const;

/** Findings about the detector, the proof, the time to notice and what the owner was told: any signal can have them. */
export const proofCodes = {
  PATH_SERVES_NO_ARRAY: {
    title: "The path serves no array",
    meaning: "None of the arrays named by the path exists at this site, so no earth fault can start it.",
    next: "Name the arrays whose detector starts this signal.",
    severity: "fault",
    effect: "falls-short",
    ...ours,
  },
  PATH_DETECTOR_UNKNOWN: {
    title: "What detects the fault is not stated",
    meaning:
      "A path begins at a detector. Without one on record nobody can say that a fault starts the signal.",
    next: "Record whether the inverter checks insulation (at start or continuously), monitors residual current, or has an interrupter in its earth connection.",
    severity: "caution",
    effect: "cannot-tell",
    ...ours,
  },
  PATH_DETECTOR_NONE: {
    title: "Nothing detects an earth fault",
    meaning: "The inverter is recorded as neither checking insulation nor monitoring residual current.",
    next: "Fit an insulation monitor to the array, or an inverter that checks insulation.",
    severity: "fault",
    effect: "falls-short",
    source: "IEC 62109-2 cl. 4.8, IEC 62548",
    tag: "memory",
  },
  PATH_PROOF_MISSING: {
    title: "The path has never been proved",
    meaning: "No drill and no test resistor is on record for this path.",
    next: "Raise the alarm through the whole path, with a test resistor where one is permitted, and record who acknowledged it and when.",
    severity: "caution",
    effect: "unproven",
    ...practice,
  },
  PATH_PROOF_OLD: {
    title: "The proof is too old",
    meaning: "The newest proof of this path is more than a year old; people, networks and batteries change.",
    next: "Repeat the drill and record it.",
    severity: "caution",
    effect: "unproven",
    ...ours,
  },
  PATH_PROOF_BEFORE_ALTERATION: {
    title: "Work was done on an array after the proof",
    meaning: "The newest proof was taken before an array it serves was installed or altered.",
    next: "Prove the path again on the array as it now stands.",
    severity: "caution",
    effect: "unproven",
    ...ours,
  },
  PATH_PROOF_DATE_AHEAD: {
    title: "The proof is dated in the future",
    meaning: "A proof dated after the day of this judgement cannot have happened yet.",
    next: "Correct the date of the proof.",
    severity: "caution",
    effect: "unproven",
    ...ours,
  },
  PATH_PROOF_UNACKNOWLEDGED: {
    title: "Nobody acknowledged the proof",
    meaning:
      "A message counts as proved when a person acknowledged it; no proof on record says how long that took.",
    next: "Repeat the drill and record the minutes until somebody acknowledged.",
    severity: "caution",
    effect: "unproven",
    ...ours,
  },
  PATH_PROOF_AGE_UNKNOWN: {
    title: "The age of the proof was not judged",
    meaning: "No date was given for this judgement, so a proof on record was taken as current.",
    next: "Give the date of the judgement.",
    severity: "note",
    effect: "none",
    ...ours,
  },
  PATH_PROOF_SLOW: {
    title: "The drill was acknowledged late",
    meaning: "In the newest proof more than a day passed before somebody acknowledged.",
    next: "Ask why, change who is told or how, and drill again.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_PROOF_DETECTOR_NOT_TESTED: {
    title: "The drill did not test the detector",
    meaning:
      "A drill exercises signal and person. Only a test resistor shows that the detector itself operates.",
    next: "Where a test resistor is permitted, a licensed person raises the alarm with it at the next visit; otherwise use the maker's own test.",
    severity: "note",
    effect: "none",
    ...ours,
  },
  PATH_PROOF_CURRENT: {
    title: "The path is proved",
    meaning: "A proof of this path is on record and not out of date.",
    next: "Repeat it by the day it is due.",
    severity: "note",
    effect: "none",
    ...ours,
  },
  PATH_OWNER_NOT_TOLD: {
    title: "The owner has not been told what sets this alarm off",
    meaning:
      "The relay and the light of an inverter operate for any inverter fault. An owner who does not know takes an earth fault for a nuisance.",
    next: "Tell the owner in writing what operates the alarm and what to do, and record the paper.",
    severity: "caution",
    effect: "none",
    ...practice,
  },
  PATH_ANY_FAULT: {
    title: "Any inverter fault sets this alarm off",
    meaning: "The signal does not tell an earth fault from another fault of the inverter.",
    next: "Treat each operation as an earth fault until the inverter's own record says otherwise.",
    severity: "note",
    effect: "none",
    ...practice,
  },
  PATH_NOTICE_EXPECTED: {
    title: "Expected time to notice",
    meaning:
      "Hours from the moment an earth fault appears until a person knows, averaged over faults that appear all through a year: worked out from hours, rates and schedules.",
    next: "Compare it with the record of drills, and correct the rates that do not fit.",
    severity: "note",
    effect: "none",
    source: "time-to-notice model",
    tag: "computed",
  },
  PATH_NOTICE_ASSUMED: {
    title: "The time to notice rests on assumptions",
    meaning: "Some values that decide it are not in the site file. Those used instead are listed.",
    next: "Put the true values into the site file.",
    severity: "note",
    effect: "none",
    ...ours,
  },
  PATH_NOTICE_LATE: {
    title: "Half of all faults would go unnoticed for more than a day and a half",
    meaning: "The news reaches a person too late for the path to serve as an alarm.",
    next: "Mend the other faults of the path, or add a recipient or a second signal; the change that gains most hours comes first.",
    severity: "fault",
    effect: "falls-short",
    ...ours,
  },
  PATH_NOTICE_LONG_TAIL: {
    title: "Some faults stay unnoticed for a week",
    meaning: "More than one fault in five would still be unnoticed after seven days by this path alone.",
    next: "Add a recipient or a second signal of another kind.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
} as const satisfies Readonly<Record<`PATH_${string}`, PathCodeEntry>>;
