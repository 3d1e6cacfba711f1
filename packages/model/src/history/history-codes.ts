import type { Explanation } from "../faults/explanation.ts";

/** What can be wrong with a table of insulation readings, or with what is said about its columns. */
export const HISTORY_FAULTS = {
  HISTORY_TABLE_INVALID: {
    title: "The table cannot be read as CSV",
    meaning: "A quote is left open or stands where none may stand, so that rows cannot be told apart.",
    causes: ["a quote is missing", "the file was cut off", "the separator is not the one that was taken"],
    remedy: "Mend the line given, or name the separator with --delimiter.",
  },
  HISTORY_TABLE_EMPTY: {
    title: "The table has no readings",
    meaning: "There is a line of column names at most, and no row below it.",
    causes: ["the wrong file was named", "the export was empty"],
    remedy: "Check the file; the first line names the columns, every further line is a reading.",
  },
  HISTORY_ROW_LENGTH_WRONG: {
    title: "A row has more or fewer cells than there are columns",
    meaning: "It is not known which cell belongs to which column, so the row was not read.",
    causes: ["a decimal comma in a file separated by commas", "a note with a comma and no quotes"],
    remedy: "Put quotes around the cell, or export with semicolons.",
  },
  HISTORY_COLUMN_MISSING: {
    title: "A column that is needed is not found",
    meaning:
      "The instant and the insulation resistance are needed, and no column has a name that is known for them.",
    causes: [
      "the columns are named otherwise",
      "the first line is no line of names",
      "another separator is used",
    ],
    remedy: "Name the column: --column instant=NAME or --column insulation=NAME.",
  },
  HISTORY_COLUMN_UNKNOWN: {
    title: "A column was named that the table does not have",
    meaning: "What is said about the columns names one that is not in the first line.",
    causes: ["the name is misspelt", "the file is another export"],
    remedy: "Use a name from the first line of the file, as it stands there.",
  },
  HISTORY_COLUMN_REPEATED: {
    title: "Two columns have the same name",
    meaning: "It is not known which of the two is meant.",
    causes: ["two exports were joined side by side"],
    remedy: "Rename one of the two in the first line.",
  },
  HISTORY_INSTANT_INVALID: {
    title: "An instant cannot be understood",
    meaning: "Dates are read as year, month, day, so that day and month cannot be exchanged.",
    causes: ["day and month come first", "a date that does not exist", "a note in the column"],
    remedy: "Write 2026-11-25 06:30 or 2026-11-25T06:30Z, or whole seconds since 1970.",
  },
  HISTORY_ZONE_MISSING: {
    title: "Instants are local and no zone is named",
    meaning: "Without a zone a local time is no instant, and mornings cannot be told from evenings.",
    causes: ["the export writes wall-clock time", "no --zone was given"],
    remedy: "Name the zone the clock showed: --zone Europe/Berlin.",
  },
  HISTORY_ZONE_MIXED: {
    title: "Some instants name their zone and some do not",
    meaning: "The rows cannot be put in one order of time without guessing.",
    causes: ["files of two devices were joined", "the logger's setting was changed"],
    remedy: "Split the file into one for each form and read them apart.",
  },
  HISTORY_VALUE_INVALID: {
    title: "A cell is no number",
    meaning: "The cell holds neither a number, nor a bound such as >20 MΩ, nor a mark for no reading.",
    causes: ["a note in the column", "a decimal comma", "digits grouped by blanks"],
    remedy: "Correct the cell, leave it empty where there is no reading, or give --decimal comma.",
  },
  HISTORY_VALUE_OUT_OF_RANGE: {
    title: "A weather value is outside what can be",
    meaning: "A temperature, humidity, rain or irradiance has a size that no weather has.",
    causes: ["columns were exchanged", "a sensor is broken", "another unit is used"],
    remedy: "Check the column; leave the cell empty where the sensor failed.",
  },
  HISTORY_UNIT_MISSING: {
    title: "The unit of the insulation is not known",
    meaning: "Bare numbers may be ohms or megohms, and a guess would be wrong by a million.",
    causes: ["the export leaves the unit out"],
    remedy: "Name it: --unit kΩ. A unit in the column's name, such as r_iso (kΩ), is read too.",
  },
  HISTORY_COLUMNS_INVALID: {
    title: "What is said about the columns cannot be used",
    meaning:
      "A mapping names a field, unit, separator or zone that is not known, or is no file of that kind.",
    causes: ["a name is misspelt", "another file was named"],
    remedy: "Write the entry as described under allowed.",
  },
  HISTORY_EVENT_UNKNOWN: {
    title: "An event log has an event that no rule names",
    meaning: "The mapping says that every event has to be known, so that a new one is not passed over.",
    causes: ["the device has a newer program", "the event is named by its text and not by its number"],
    remedy: "Add a rule for it, or set others: pass.",
  },
  HISTORY_EVENT_STATE_UNKNOWN: {
    title: "An event neither begins nor ends",
    meaning: "The state column holds a word that the mapping has under neither begins nor ends.",
    causes: ["the words of another language are set in the device", "a word is missing in the mapping"],
    remedy: "Add the word to begins or to ends.",
  },
} as const satisfies Readonly<Record<string, Explanation>>;

export type HistoryFaultCode = keyof typeof HISTORY_FAULTS;

/** Every code of a table of readings, for `explain`. */
export const HISTORY_CODES: readonly (Explanation & { readonly code: HistoryFaultCode })[] = (
  Object.keys(HISTORY_FAULTS) as HistoryFaultCode[]
).map((code) => ({ code, ...HISTORY_FAULTS[code] }));
