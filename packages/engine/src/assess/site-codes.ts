import type { Tag } from "../provenance.ts";
import type { Severity } from "./assessment.ts";

/** One kind of finding about a site, its arrays or its owner. Codes never change; words may. */
export interface SiteCodeEntry {
  readonly title: string;
  readonly meaning: string;
  readonly next: string;
  readonly severity: Severity;
  readonly source: string;
  readonly tag: Tag;
}

const ours = { source: "rule of this program", tag: "design choice" } as const;

export const dutyCodes = {
  DUTY_UNDECIDED: {
    title: "Whether an alarm is required is not settled",
    meaning:
      "A fact or a document on which the rule turns is missing. The answer is left open; that is not a no.",
    next: "Supply what the duty lists as missing. Until then treat the array as if the alarm were required.",
    severity: "caution",
    ...ours,
  },
  DUTY_NO_PATH: {
    title: "An alarm is required and the array has no path",
    meaning: "No path of the site serves this array, so nobody learns of an earth fault.",
    next: "Choose and engineer a message, an annunciator or an indicator for this array, and prove it.",
    severity: "fault",
    ...ours,
  },
  DUTY_NO_SOUND_PATH: {
    title: "An alarm is required and every path of the array falls short",
    meaning:
      "Paths serve this array, and each has a fault that keeps the alarm from reaching a person in time.",
    next: "Start with the path nearest to sound: mend its faults, then prove it.",
    severity: "fault",
    ...ours,
  },
  DUTY_PATH_UNPROVEN: {
    title: "An alarm is required and no path of the array is known to work",
    meaning: "No path that serves this array is both free of faults and proved; at least one might be.",
    next: "Supply what the path's findings say is missing, then prove it end to end.",
    severity: "caution",
    ...ours,
  },
  DUTY_SERVED: {
    title: "The path serves an array that must have an alarm",
    meaning: "The rules require an alarm on an array that this path serves.",
    next: "Keep the path proved; see the array's duty for what the alarm must do.",
    severity: "note",
    ...ours,
  },
  DUTY_SERVED_UNDECIDED: {
    title: "The path serves an array for which it is not settled whether an alarm is required",
    meaning: "Whether the rules require an alarm depends on what the array's duty lists as missing.",
    next: "Settle the duty; until then keep the path as if it were required.",
    severity: "note",
    ...ours,
  },
  DUTY_PATH_SHARED: {
    title: "The path does not tell which array",
    meaning: "It serves several arrays, so whoever is told must first find out which one has the fault.",
    next: "Make the message name the array and inverter, or give each array its own signal.",
    severity: "note",
    ...ours,
  },
  DUTY_SIGNAL_NOT_ACCEPTED: {
    title: "The rule does not list this kind of signal",
    meaning: "The rule pack that binds names the accepted signals, and this path's is not among them.",
    next: "Add a path whose signal the pack accepts, or correct the pack from your own copy of the rule.",
    severity: "fault",
    ...ours,
  },
  DUTY_TOO_FEW_ADDRESSES: {
    title: "The message goes to fewer addresses than the rule asks",
    meaning: "The rule pack that binds names a least number of addresses.",
    next: "Add recipients who read at other hours, or correct the pack from your own copy of the rule.",
    severity: "caution",
    ...ours,
  },
  DUTY_REPEAT_TOO_SLOW: {
    title: "The message repeats more slowly than the rule asks",
    meaning: "The rule pack that binds names the longest time between repeats.",
    next: "Repeat at least that often, or correct the pack from your own copy of the rule.",
    severity: "caution",
    ...ours,
  },
  DUTY_DETECTOR_BELOW_THRESHOLD: {
    title: "The detector is set below the threshold of the rule",
    meaning:
      "The alarm must operate below the threshold of the rule; the inverter waits until the insulation is lower still.",
    next: "Raise the inverter's insulation limit to the threshold or above, then prove the alarm with the test resistor.",
    severity: "fault",
    ...ours,
  },
  DUTY_DETECTOR_UNKNOWN: {
    title: "The detector's own limit is not stated",
    meaning:
      "Where an alarm is required, the inverter must report insulation below the threshold of the rule. Nobody has recorded the limit it is set to.",
    next: "Read the inverter's insulation limit and record it.",
    severity: "note",
    ...ours,
  },
  DUTY_THRESHOLD_UNKNOWN: {
    title: "No insulation threshold can be given",
    meaning: "The packs that may bind disagree or have no table, and the inverter's own limit is not stated.",
    next: "Settle the duty, or record the inverter's insulation limit.",
    severity: "caution",
    ...ours,
  },
  DUTY_THRESHOLD_BY_RATING: {
    title: "The threshold depends on whether kW or kVA counts",
    meaning:
      "Sources disagree whether the table goes by the array's kW or by the inverter's kVA, and here the two fall in different rows.",
    next: "Look it up in your own copy. Until then set the detector to the higher of the two.",
    severity: "caution",
    source: "IEC 62548 table against a trade article",
    tag: "memory",
  },
  DUTY_SHARED_CHECK: {
    title: "Several arrays share one insulation check",
    meaning:
      "The inverter measures all its arrays in parallel: together they show less insulation than any one of them, and an alarm does not tell which it is.",
    next: "Compare the common floor with the limit, and prove the alarm from each array.",
    severity: "note",
    ...ours,
  },
  DUTY_FLOOR_BELOW_THRESHOLD: {
    title: "An undamaged array may lie below the limit of the check when wet",
    meaning:
      "Modules that pass their qualification may together show less insulation than the check asks for, so false alarms in wet weather are to be expected and people stop heeding them. New modules usually lie far above their floor.",
    next: "Treat each alarm as a fault until every string is measured; then divide the array between more insulation checks, or ask the inverter's maker for a lower limit that the rule still allows.",
    severity: "fault",
    source: "IEC 61215-2 MQT 15",
    tag: "memory",
  },
  DUTY_FLOOR_NEAR_THRESHOLD: {
    title: "An undamaged array may come near the limit of the check when wet",
    meaning:
      "The least insulation that undamaged modules may show is less than twice the limit of the check, so some leakage elsewhere is enough for an alarm.",
    next: "Treat each alarm as a fault until it is measured; keep readings taken dry and wet, and consider dividing the array between more insulation checks.",
    severity: "caution",
    source: "IEC 61215-2 MQT 15",
    tag: "memory",
  },
  DUTY_BLIND_SPOT: {
    title: "A fault on or near the earthed conductor may stay unseen",
    meaning:
      "The voltage of the faulted place drives the current through the earth connection. On the earthed conductor, or close to it, that voltage is next to nothing, so the interrupter or fuse does not open; a second fault then finds a closed circuit. Two rooftop fires began so, in 2009 and 2011.",
    next: "Have the insulation measured by a licensed person with the earth connection isolated, at every visit, or fit a device that measures it before each start.",
    severity: "caution",
    source: "Solar ABCs, blind spot of ground-fault protection, June 2013; Sandia, SAND2013-3459",
    tag: "published",
  },
  DUTY_RESIDUAL_MONITOR_ABSENT: {
    title: "An inverter without separation has no residual-current monitor",
    meaning:
      "Where array and mains are not separated, a fault that appears while the inverter feeds in is seen by its residual current only.",
    next: "Confirm in the inverter's papers that it monitors residual current, or fit a device that does.",
    severity: "fault",
    source: "IEC 62548, IEC 62109-2",
    tag: "memory",
  },
  DUTY_SEPARATION_UNKNOWN: {
    title: "Whether the inverter separates array and mains is not stated",
    meaning: "The residual-current limit is given as for an inverter without separation, the stricter case.",
    next: "Record the inverter's separation: none or simple.",
    severity: "note",
    ...ours,
  },
  DUTY_VOLTAGE_UNKNOWN: {
    title: "The highest array voltage cannot be worked out",
    meaning: "The voltage on the coldest day decides the duty's voltage line and the test resistor.",
    next: "Supply the fields named in the finding.",
    severity: "caution",
    ...ours,
  },
} as const satisfies Readonly<Record<`DUTY_${string}`, SiteCodeEntry>>;
