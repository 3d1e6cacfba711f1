import type { Provenance } from "../provenance.ts";

/** One thing the finder can say of the readings themselves, explained. */
export interface ReadingCodeEntry extends Provenance {
  readonly title: string;
  readonly meaning: string;
  readonly next: string;
}

const byTheFinder = {
  source: "engine, finder: what makes the readings agree once it is undone",
  tag: "computed",
} as const;
const byThePhysics = {
  source: "engine, finder: an open-circuit string has one unknown potential, and this breaks that picture",
  tag: "computed",
} as const;

const entries = {
  READING_LEADS_SWAPPED: {
    title: "A reading fits other terminals than those written beside it",
    meaning:
      "The value contradicts the rest where it stands and agrees with them as another pair of terminals.",
    next: "Take it again, saying each lead aloud as it touches; do not correct it at the desk.",
    ...byTheFinder,
  },
  READING_METER_ON_AC: {
    title: "A reading is far too small for the place",
    meaning:
      "Less than a volt is shown where the rest asks for more: the meter stands on AC, or a lead does not touch.",
    next: "Prove the meter on a known DC source, set it to DC volts and take the reading again. Do not take the conductor for dead.",
    ...byTheFinder,
  },
  READING_PREFIX_WRONG: {
    title: "A reading is a thousand times too large or too small",
    meaning:
      "With the value times or through a thousand, all readings agree: mV for V, kΩ for Ω, or the like.",
    next: "Look at the unit the instrument showed, take the reading again and write the unit with the number.",
    ...byTheFinder,
  },
  READING_DIGIT_SHIFTED: {
    title: "A reading's decimal point stands one place off",
    meaning: "With the value times or through ten, all readings agree.",
    next: "Take the reading again and write it down while the instrument still shows it.",
    ...byTheFinder,
  },
  READING_STRING_CONNECTED: {
    title: "A string read as alone was still joined to its circuit",
    meaning: "The value contradicts the string's other readings and agrees with those of the whole circuit.",
    next: "Isolate the string at both poles and prove that it is, then take all its readings again.",
    ...byTheFinder,
  },
  READING_LIGHT_CHANGED: {
    title: "A reading was taken under other light or temperature",
    meaning:
      "Scaled by one factor between a half and two it agrees: the array held another voltage at that moment.",
    next: "Take the reading again with + to − directly before and after it; wait out passing clouds.",
    ...byTheFinder,
  },
  READING_SLIP_UNKNOWN: {
    title: "A reading contradicts the rest and no usual slip explains it",
    meaning:
      "None of swapped leads, wrong unit, shifted point, changed light or a joined string makes the readings agree.",
    next: "Take it again, and compare the wiring and the number of modules with the file before trusting either.",
    ...byTheFinder,
  },
  READING_LENGTH_DOUBTFUL: {
    title: "The voltage does not fit the number of modules",
    meaning:
      "+ to − is more than 3.5 % away from what the file expects, so places counted in modules may be off.",
    next: "Count the string, make sure that it is at open circuit, or correct the expected voltage of a module.",
    ...byTheFinder,
  },
  READING_EARTH_CLOSED: {
    title: "A functional earth was closed while the readings were taken",
    meaning:
      "So firm an earth sets the potential of the array by itself; readings to earth say nothing of the fault.",
    next: "A licensed person opens the functional earth first, taking the conductor it held at earth as live from then on.",
    ...byThePhysics,
  },
  READING_UNDER_LOAD: {
    title: "Readings were taken while the string carried current",
    meaning:
      "An inverter sets the potentials to earth and modules no longer hold equal voltages; the place cannot be read from them.",
    next: "Stop the inverter, open the DC isolator, prove that no current flows, and take the readings at open circuit.",
    ...byThePhysics,
  },
  READING_THROUGH_DIODES: {
    title: "Readings were taken on a circuit whose strings have blocking diodes",
    meaning:
      "A diode may be blocking, so that a string behind it is not part of what was read; no place is named from such readings.",
    next: "Isolate each string and read it alone, on the string's side of its diode.",
    ...byThePhysics,
  },
} as const satisfies Readonly<Record<`READING_${string}`, ReadingCodeEntry>>;

export type ReadingCode = keyof typeof entries;

/** Every code the finder can give to readings: slips it names, then what it declines. */
export const READING_CODES: readonly ({ readonly code: ReadingCode } & ReadingCodeEntry)[] = (
  Object.keys(entries) as ReadingCode[]
).map((code) => ({ code, ...entries[code] }));
