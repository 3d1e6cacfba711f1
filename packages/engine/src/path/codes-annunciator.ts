import type { PathCodeEntry } from "./code-entry.ts";

const ours = { source: "rule of this program", tag: "design choice" } as const;
const drop = { source: "Ohm's law with IEC 60228 conductor resistance", tag: "computed" } as const;
const iso7731 = { source: "ISO 7731:2003, A-weighted criterion", tag: "memory" } as const;
const standby = {
  source: "BS 5839-1:2025 Annex E in a trade summary, a fire rule borrowed as good practice",
  tag: "secondary",
} as const;

/** Findings about the supply, the cable, the sound and the sense of an annunciator loop. */
export const annunciatorCodes = {
  PATH_LOOP_UNKNOWN: {
    title: "Nothing is recorded about the annunciator loop",
    meaning: "Supply, cable and load decide whether it sounds at all.",
    next: "Record supply, cable, load, fuse and battery of the loop.",
    severity: "caution",
    effect: "cannot-tell",
    ...ours,
  },
  PATH_LOOP_INCOMPLETE: {
    title: "The voltage at the load cannot be worked out",
    meaning: "A value that decides whether the load operates is missing.",
    next: "Record the values named.",
    severity: "caution",
    effect: "cannot-tell",
    ...ours,
  },
  PATH_LOOP_ASSUMED_WORST: {
    title: "Missing loop data were judged at their worst",
    meaning: "Each missing value was taken at the unfavourable end of what is usual, and is named.",
    next: "Record the values named; the result can only get better.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_LOOP_FIGURES: {
    title: "Figures of the loop",
    meaning:
      "Voltage at the load with the battery at its end and the cable hot, sound where the listener is, hours of standby.",
    next: "Measure the voltage at the load with the alarm sounding and compare.",
    severity: "note",
    effect: "none",
    ...drop,
  },
  PATH_CABLE_AREA_UNKNOWN: {
    title: "The cable is not a size of the conductor table",
    meaning: "No maximum resistance is tabulated for this cross-section and class.",
    next: "Check the cross-section on the cable's marking.",
    severity: "caution",
    effect: "cannot-tell",
    source: "IEC 60228 conductor table",
    tag: "memory",
  },
  PATH_LOAD_VOLTAGE_LOW: {
    title: "The load gets too little voltage",
    meaning: "With the battery at its end and the cable hot the load is below the voltage it needs.",
    next: "Use a larger or shorter cable, a smaller load, or a higher loop voltage.",
    severity: "fault",
    effect: "falls-short",
    ...drop,
  },
  PATH_LOAD_VOLTAGE_TIGHT: {
    title: "The load's voltage has little margin",
    meaning: "Less than 5 % above the voltage the load needs; an aged joint uses that up.",
    next: "Choose the next larger cable.",
    severity: "caution",
    effect: "none",
    ...drop,
  },
  PATH_BATTERY_NONE: {
    title: "The loop has no battery on record",
    meaning:
      "When the supply fails the annunciator is silent. No PV standard seen asks for a battery; good practice does.",
    next: "Fit a battery, or make loss of supply sound the alarm elsewhere.",
    severity: "caution",
    effect: "none",
    ...standby,
  },
  PATH_STANDBY_SHORT: {
    title: "The battery lasts less than a day",
    meaning: "After a night without supply the annunciator may be silent at the morning check.",
    next: "Fit a larger battery.",
    severity: "caution",
    effect: "none",
    ...standby,
  },
  PATH_QUIESCENT_UNKNOWN: {
    title: "What the loop draws at rest is not stated",
    meaning: "Judged at its worst: the load's own current all the time.",
    next: "Measure the current at rest and record it.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_SENSE_HIDES: {
    title: "A broken loop is silent",
    meaning:
      "The contact closes to sound it and nothing watches the loop, so a cut wire, a dead inverter or a flat battery hides the alarm.",
    next: "Let loss of current sound it, or supervise the loop with an end-of-line resistor at the far end.",
    severity: "caution",
    effect: "none",
    source: "fail-safe practice: prefer a loop that alarms when it loses power",
    tag: "memory",
  },
  PATH_SENSE_UNKNOWN: {
    title: "Whether a broken loop sounds or hides the alarm is not stated",
    meaning: "Judged at its worst: a cut wire, a dead inverter or a flat battery hides it.",
    next: "Cut the loop at its terminals during a drill, watch what happens, and record the sense.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_SENSE_DEAD_INVERTER: {
    title: "A dead inverter is silent",
    meaning:
      "The loop is supervised, so a cut wire shows. An inverter without power still cannot close its contact to raise the alarm.",
    next: "Use the contact that opens on fault and on loss of power, if the inverter has one.",
    severity: "note",
    effect: "none",
    ...ours,
  },
  PATH_SENSE_FAIL_SAFE: {
    title: "Loss of current raises the alarm",
    meaning:
      "A cut wire and a dead inverter sound it. A flat battery at the sounder itself still hides it unless the sounder has its own.",
    next: "Prove it: open the loop during a drill.",
    severity: "note",
    effect: "none",
    source: "fail-safe practice: prefer a loop that alarms when it loses power",
    tag: "memory",
  },
  PATH_LISTENER_UNKNOWN: {
    title: "Who is meant to hear or see it is not stated",
    meaning:
      "Distance and ambient sound decide whether it is heard; presence decides whether anybody is there.",
    next: "Record distance, doors and walls between, ambient sound level and hours of presence.",
    severity: "caution",
    effect: "cannot-tell",
    ...ours,
  },
  PATH_LISTENER_ABSENT: {
    title: "Nobody is ever within reach of it",
    meaning: "The hours of presence are empty.",
    next: "Move the annunciator to where people are, or use a message.",
    severity: "fault",
    effect: "falls-short",
    ...ours,
  },
  PATH_SOUND_QUIET: {
    title: "The sound is below 65 dB(A) where it should be heard",
    meaning: "Distance, walls and doors take too much of it.",
    next: "Move the sounder nearer, add a second one, or choose a louder one.",
    severity: "fault",
    effect: "falls-short",
    ...iso7731,
  },
  PATH_SOUND_MASKED: {
    title: "Ambient sound masks it",
    meaning: "It is not 15 dB above the ambient level.",
    next: "Move the sounder nearer, choose a louder one, or add a beacon.",
    severity: "fault",
    effect: "falls-short",
    ...iso7731,
  },
  PATH_SOUND_LOUD: {
    title: "The sound is above 118 dB(A) where people are",
    meaning: "That level harms hearing.",
    next: "Move the sounder away or choose a quieter one.",
    severity: "fault",
    effect: "falls-short",
    ...iso7731,
  },
  PATH_SOUND_UNKNOWN: {
    title: "The sound at the listener cannot be judged",
    meaning: "A value that decides audibility is missing.",
    next: "Record the values named.",
    severity: "caution",
    effect: "cannot-tell",
    ...iso7731,
  },
  PATH_BARRIERS_ASSUMED: {
    title: "Walls and doors between are not stated",
    meaning: "Judged at its worst: one closed door that takes 30 dB.",
    next: "Record what stands between; an empty list says that nothing does.",
    severity: "caution",
    effect: "none",
    source: "closed door 20 to 30 dB, fire-alarm trade text",
    tag: "secondary",
  },
  PATH_LOAD_SILENT: {
    title: "What the load does for a person cannot be judged",
    meaning: "The load switches something else, and nothing on record says what reaches the person.",
    next: "Record the sounder or beacon that the person meets, or prove it by a drill.",
    severity: "caution",
    effect: "cannot-tell",
    ...ours,
  },
} as const satisfies Readonly<Record<`PATH_${string}`, PathCodeEntry>>;
