import type { CodePage } from "./refusal.ts";

/** Why a reading was not taken in. */
export const readingCodes = {
  READING_RECORD_INVALID: {
    title: "A reading is not a record",
    meaning: "What arrived is not a map of fields, so nothing in it could be looked at.",
    next: "Check what the listener passes on.",
  },
  READING_FIELD_UNKNOWN: {
    title: "A reading has a field that no reading has",
    meaning: "A field nobody looks at may be a misspelt one, whose value would be lost.",
    next: "Correct or remove the field.",
  },
  READING_NAME_INVALID: {
    title: "A name in a reading is missing or unsound",
    meaning: "Site, device, source and key are texts of 1 to 200 characters without control characters.",
    next: "Give the field in the listener's mapping of the device.",
  },
  READING_INSTANT_INVALID: {
    title: "The instant of a reading is unsound",
    meaning: "at is a whole number of milliseconds since 1970 in UTC, from the year 2000 to the year 2200.",
    next: "Check the unit: some devices count seconds, or count from the year 2000.",
  },
  READING_KIND_UNKNOWN: {
    title: "The kind of a reading is not known",
    meaning: "The watch knows a fixed list of kinds and can decide nothing from another one.",
    next: "Map the value to one of the kinds, or leave it out.",
  },
  READING_QUALITY_UNKNOWN: {
    title: "The quality of a reading is not known",
    meaning: "Quality is one of good, stale, implausible and not-implemented.",
    next: "Name one of them. When in doubt, stale: it decides nothing and does not pass for healthy.",
  },
  READING_UNIT_WRONG: {
    title: "A reading has the wrong unit",
    meaning: "Each kind has one unit: ohm for insulation, ampere for residual current.",
    next: "Convert the value where it is read.",
  },
  READING_VALUE_INVALID: {
    title: "The value of a reading does not fit its kind",
    meaning: "Bits are true or false, insulation and residual current are finite numbers from 0 upwards.",
    next: "Mark the reading as implausible or not-implemented, with null as its value.",
  },
} as const satisfies Readonly<Record<`READING_${string}`, CodePage>>;

export type ReadingCode = keyof typeof readingCodes;
