import type { Explanation } from "./explanation.ts";

/** Faults of single fields and of the references between them. */
export const fieldFaults = {
  INPUT_FIELD_MISSING: {
    title: "A required field is missing",
    meaning: "The record cannot be used without this field, and no default passes for data.",
    causes: ["the field was forgotten", "its name is misspelt", "it is indented under another field"],
    remedy: "Add the field at the place given.",
  },
  INPUT_FIELD_EMPTY: {
    title: "Nothing is written for a field",
    meaning: "The key stands there without a value.",
    causes: ["the value was left for later", "the value stands on the next line without indentation"],
    remedy: "Write the value, or delete the line: a field that is absent counts as unknown.",
  },
  INPUT_FIELD_UNKNOWN: {
    title: "A field is not part of the format",
    meaning:
      "The name is not known at this place. It is not ignored, because a misspelt name would lose data in silence.",
    causes: [
      "the name is misspelt",
      "the field stands at the wrong level",
      "a number has a decimal comma inside braces",
    ],
    remedy: "Use the name suggested, or delete the field.",
  },
  INPUT_TYPE_WRONG: {
    title: "A field holds the wrong kind of value",
    meaning: "Text, a number, yes or no, a list or a map is wanted, and another of these is written.",
    causes: [
      "quotes are missing or too many",
      "a list is written where one value is wanted",
      "an id is written as a number",
    ],
    remedy: "Write the value as described under allowed.",
  },
  INPUT_TEXT_INVALID: {
    title: "A text does not have the form wanted",
    meaning: "The text is too long, empty, or not of the form that this field has.",
    causes: ["a letter is missing or too many", "another kind of text was pasted"],
    remedy: "Write the text as described under allowed.",
  },
  INPUT_CHOICE_UNKNOWN: {
    title: "A word is not one of the choices",
    meaning: "The field takes one of a few words, and another is written.",
    causes: ["the word is misspelt", "capitals differ", "the word belongs to another field"],
    remedy: "Use one of the words listed.",
  },
  INPUT_NUMBER_OUT_OF_RANGE: {
    title: "A number is outside its range",
    meaning: "The number is smaller or larger than can be meant in this field.",
    causes: ["a digit is missing or too many", "two fields were exchanged"],
    remedy: "Check the number against its source and write one in the range given.",
  },
  INPUT_LIST_LENGTH_WRONG: {
    title: "A list has too few or too many entries",
    meaning: "The list must have a number of entries within the limits given.",
    causes: ["the list was left empty", "a list was pasted twice"],
    remedy: "Add or remove entries.",
  },
  INPUT_DATE_INVALID: {
    title: "A date does not exist",
    meaning: "The text is not a day of the calendar in the form YYYY-MM-DD.",
    causes: ["day and month are exchanged", "the month has no such day", "another form of date is written"],
    remedy: "Write the day as year, month and day: 2026-02-28.",
  },
  INPUT_DATES_REVERSED: {
    title: "Two dates are the wrong way round",
    meaning: "A span of days ends before it begins, or an array is altered before it was installed.",
    causes: ["the two dates were exchanged", "a year is misspelt"],
    remedy: "Check both dates.",
  },
  INPUT_HOURS_INVALID: {
    title: "Weekly hours cannot be understood",
    meaning: "The text does not name days and hours in the form wanted.",
    causes: ["a day is misspelt", "an hour is beyond 24:00", "a - between the two hours is missing"],
    remedy: 'Write for example "Mon-Fri 07:00-17:00", "always" or "never".',
  },
  INPUT_ZONE_UNKNOWN: {
    title: "A time zone is not known",
    meaning: "The text is not the name of a zone in the IANA time zone database.",
    causes: ["the name is misspelt", "an abbreviation or an offset is written"],
    remedy: "Write area and place, for example Australia/Melbourne.",
  },
  INPUT_ID_DUPLICATE: {
    title: "An id is used twice",
    meaning: "Two entries have the same id, so that a reference to it would be ambiguous.",
    causes: ["an entry was copied and its id not changed"],
    remedy: "Give one of the two another id, and check the references to it.",
  },
  INPUT_REFERENCE_UNKNOWN: {
    title: "A reference names nothing",
    meaning: "The field names an entry by its id, and no entry has that id.",
    causes: ["the id is misspelt", "the entry was deleted or renamed"],
    remedy: "Use the id of an entry that exists, or add the entry.",
  },
  INPUT_REFERENCE_REPEATED: {
    title: "A list names the same entry twice",
    meaning: "The entry would count double.",
    causes: ["a name was copied and not changed"],
    remedy: "Keep one of the two.",
  },
  INPUT_FAULTS_TOO_MANY: {
    title: "The rest of the faults is not listed",
    meaning: "The input has more faults than are worth reading; the first in order of line are listed.",
    causes: ["the same slip is repeated on every entry", "the file is not of this kind"],
    remedy: "Mend the kind of fault listed, wherever it occurs, and read the file again.",
  },
  QUANTITY_OUT_OF_RANGE: {
    title: "A quantity is outside its range",
    meaning: "The quantity has the right unit, but its size cannot be meant in this field.",
    causes: ["a prefix is wrong (mΩ and MΩ)", "a digit is missing or too many", "a sign is wrong"],
    remedy: "Check number and prefix against the source and write a quantity in the range given.",
  },
  QUANTITY_TEXT_EMPTY: {
    title: "A quantity is empty",
    meaning: "The field wants a number with a unit and holds only blanks.",
    causes: ["the value was left for later"],
    remedy: "Write the quantity, or delete the field: an absent field counts as unknown.",
  },
  QUANTITY_NOT_A_NUMBER: {
    title: "A quantity does not begin with a number",
    meaning: "A quantity is a decimal number with a point, followed by its unit.",
    causes: [
      "digits are grouped with spaces",
      "the unit stands first",
      "a word or a hexadecimal number is written",
    ],
    remedy: 'Write for example "1250 V" or "2.2e3 ohm".',
  },
  QUANTITY_DECIMAL_COMMA: {
    title: "A quantity has a comma",
    meaning: "A comma means a decimal to some readers and a thousand to others, so it is refused.",
    causes: ["the number was written the way the local language does"],
    remedy: "Write a decimal point and no grouping: 741.3 V.",
  },
  QUANTITY_NUMBER_TOO_LARGE: {
    title: "A number is too large to be calculated with",
    meaning: "The number exceeds what a computer holds.",
    causes: ["the exponent is wrong"],
    remedy: "Check the exponent.",
  },
  QUANTITY_UNIT_MISSING: {
    title: "A quantity has no unit",
    meaning: "A bare number is not accepted here, because its unit would be a guess.",
    causes: ["the unit was left out"],
    remedy: "Write the unit behind the number.",
  },
  QUANTITY_UNIT_WRONG: {
    title: "A quantity has the wrong unit",
    meaning: "The unit is unknown, belongs to another kind of quantity, or has wrong capitals (kW, not kw).",
    causes: ["two fields were exchanged", "capitals are wrong", "kW and kVA were mixed up"],
    remedy: "Write one of the units listed; capitals matter.",
  },
} as const satisfies Readonly<Record<string, Explanation>>;
