import type { Explanation } from "./explanation.ts";

/** Faults of a site, a visit, a desk's settings or a rule pack as a whole: fields that are sound alone and do not fit together. */
export const recordFaults = {
  SITE_SUPPLY_MINIMUM_TOO_HIGH: {
    title: "A loop's lowest supply voltage is above its supply voltage",
    meaning: "supplyMinimum is the voltage at the end of discharge and cannot be above supply.",
    causes: ["the two voltages were exchanged"],
    remedy: "Check both voltages of the loop.",
  },
  RULES_BOUNDS_INVALID: {
    title: "The bounds of a condition or row exclude everything, or nothing",
    meaning: "above must be smaller than atMost, and a condition on a number needs at least one of them.",
    causes: ["the two were exchanged", "both were forgotten"],
    remedy: "Give the bounds so that some number lies between them.",
  },
  RULES_ROWS_NOT_JOINED: {
    title: "The rows of a table leave a gap or overlap",
    meaning:
      "Rows ascend, each begins where the one before ends, the first begins at 0 and the last has no end.",
    causes: ["a row is missing", "rows are out of order", "an end was changed in one row only"],
    remedy: "Make each row begin at the end of the row before it.",
  },
  RULES_RESIDUAL_FORM_INVALID: {
    title: "A residual current is given in both forms or in none",
    meaning: "A row gives milliamps, or milliampsPerKilovoltampere, and not both.",
    causes: ["a row was copied and not finished"],
    remedy: "Keep the form that the rule uses.",
  },
  RULES_SETTLED_BY_MISPLACED: {
    title: "A row that decides says what would settle it",
    meaning: "settledBy belongs to a row whose alarm is undecided; this one leaves nothing open.",
    causes: ["the answer of the row was changed"],
    remedy: "Delete settledBy, or make the row undecided.",
  },
  VISIT_SEGMENT_INVALID: {
    title: "A segment is not part of its string",
    meaning: "segment: [a, b] names the part between two nodes of one string, with 0 ≤ a < b ≤ modules.",
    causes: [
      "the two nodes were exchanged",
      "modules were counted from the positive end",
      "on names a circuit",
    ],
    remedy: "Count nodes from the negative end, 0 being the negative terminal, and name the string.",
  },
  VISIT_ISOLATED_INVALID: {
    title: "The isolated strings do not fit the circuit",
    meaning:
      "isolated names strings of the circuit that is read, and at least one string must stay connected.",
    causes: ["on names a string", "a string of another circuit is named", "all strings are named"],
    remedy: "Name only strings of that circuit, and name the circuit in on.",
  },
  VISIT_MODULE_VOCS_LENGTH: {
    title: "There is not one voltage for each module",
    meaning:
      "moduleVocs lists the voltage of every module from the negative end, so it has as many entries as modules.",
    causes: ["a module was forgotten", "the number of modules changed"],
    remedy: "List one voltage a module, or give a single moduleVoc instead.",
  },
  VISIT_STRING_IN_TWO_CIRCUITS: {
    title: "A string is in two circuits",
    meaning: "A string is joined in parallel at one combiner only.",
    causes: ["an id was copied and not changed"],
    remedy: "Name the string in the circuit to which it is connected.",
  },
  VISIT_TERMINALS_INVALID: {
    title: "A reading does not say between what it was taken",
    meaning:
      "A voltage is read from + or - to another terminal or to earth; an insulation tester and a leakage clamp are read to earth; an insulation monitor sees the terminals together (from: shorted).",
    causes: [
      "from and to are the same",
      "a tester was read between the terminals",
      "terminals were shorted for a voltmeter",
    ],
    remedy: "Write the two points of the reading as they were.",
  },
  VISIT_INSTRUMENT_MISMATCH: {
    title: "A reading does not fit its instrument",
    meaning:
      "A shunt belongs to a voltmeter or a clamp, testVoltage to an insulation tester, circuit to a leakage clamp.",
    causes: ["the wrong instrument is named", "a field was copied from another reading"],
    remedy: "Name the instrument that took the reading, and give the fields that belong to it.",
  },
  VISIT_CLAMP_OUTSIDE_CIRCUIT: {
    title: "A clamp is around a string of another circuit",
    meaning:
      "A leakage clamp reads one string while its circuit stays joined, so that on must be a string of circuit.",
    causes: ["on or circuit names the wrong entry"],
    remedy: "Name the string inside the clamp and the circuit that it is joined to.",
  },
  VISIT_PHOTO_OUTSIDE: {
    title: "A photograph lies outside the folder of its visit",
    meaning:
      "Photographs are named from the folder of the visit file downwards, so that the folder holds all of a visit and nothing else is read.",
    causes: [
      "the path begins at the root or with ..",
      "an address was written",
      "a link leads out of the folder",
    ],
    remedy: "Put the picture beside the visit file, or in a folder below it, and write the path from there.",
  },
  VISIT_PHOTO_MISSING: {
    title: "A photograph that a visit names is not there",
    meaning: "Nothing can be read under its name beside the visit file.",
    causes: [
      "the picture was not copied along",
      "the name is spelt otherwise",
      "this account may not read it",
    ],
    remedy: "Put the picture there, correct its name, or take it out of photos.",
  },
  VISIT_PHOTO_ALTERED: {
    title: "A photograph is not the one that was named",
    meaning: "The SHA-256 of the picture is another than the visit file states.",
    causes: ["the picture was edited or saved anew", "another one got its name"],
    remedy: "Put the first one back, or, if this is the one, state its SHA-256 or none.",
  },
  VISIT_PHOTO_NO_PICTURE: {
    title: "A file that is named as a photograph cannot be printed",
    meaning:
      "Reports print JPEG, PNG and WebP of up to 60 million points, told apart by what they begin with and not by their names.",
    causes: ["it is of another kind, such as HEIC", "it is cut short", "it is no picture"],
    remedy: "Save it as JPEG, PNG or WebP, or take it out of photos.",
  },
  VISIT_PRIORS_ALL_ZERO: {
    title: "All weights of places are zero",
    meaning: "priors are relative weights; with all of them zero no place is possible.",
    causes: ["placeholders were left in"],
    remedy: "Give at least one place a weight above zero, or leave priors out.",
  },
} as const satisfies Readonly<Record<string, Explanation>>;
