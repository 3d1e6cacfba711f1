import type { Entry } from "./entry.ts";

const group = "calculations";
const program =
  "The readers of files keep such values out, so on a file that was accepted it is a fault of this program: report it with the file, if you may.";

/** What a calculation refuses: met by those who call the engine themselves, hardly ever by those who give it a file. */
export const calculationCodes: readonly Entry[] = [
  {
    code: "ASSESS_REFERENCE_UNKNOWN",
    group,
    title: "An array names a module or inverter that the site does not have",
    meaning: "A site was handed to the engine that no reader of files has checked.",
    next: "Add the module or inverter, or correct the name in the array.",
  },
  {
    code: "CIRCUIT_VALUE_OUT_OF_RANGE",
    group,
    title: "A value of a circuit is outside its range",
    meaning:
      "A resistance, voltage or current of the circuit to be solved is negative, endless or no number.",
    next: `Correct the value named in the message. ${program}`,
  },
  {
    code: "CIRCUIT_PLACE_UNKNOWN",
    group,
    title: "A place is not in the circuit",
    meaning: "A fault, a probe or a connection names a string, terminal or junction that the circuit lacks.",
    next: `Name one of the places that the message allows. ${program}`,
  },
  {
    code: "CIRCUIT_SOURCES_CONFLICT",
    group,
    title: "Voltage sources without resistance contradict one another",
    meaning:
      "Strings of unequal voltage are in parallel with nothing between them that could take up the difference.",
    next: "Give the strings a source resistance, or take one of them off.",
  },
  {
    code: "CIRCUIT_NODE_FLOATING",
    group,
    title: "A part of the circuit hangs in the air",
    meaning: "Nothing joins it to the rest, so its voltage to earth is anything.",
    next: "Join it by a resistance, however large, or leave it out.",
  },
  {
    code: "CIRCUIT_NEWTON_STALLED",
    group,
    title: "The solution of a circuit with diodes did not settle",
    meaning:
      "The steps towards a solution neither ended nor became small. No result is given rather than a doubtful one.",
    next: "Report it with the circuit, if you may. A slightly different resistance usually settles.",
  },
  {
    code: "LIMITS_RESISTANCE_NOT_POSITIVE",
    group,
    title: "A preferred value was asked for a resistance that is none",
    meaning: "Preferred values exist above 0 Ω only, and for a finite number.",
    next: `Ask for a resistance above 0 Ω. ${program}`,
  },
  {
    code: "PATH_AMBIENT_HOURS_WRONG",
    group,
    title: "The background sound is not given for 24 hours",
    meaning: "Hearing by the hour needs one level for each hour of the day, midnight first.",
    next: "Give 24 levels.",
  },
  {
    code: "PROOF_INPUT_OUT_OF_RANGE",
    group,
    title: "A test resistor cannot be worked out from these values",
    meaning:
      "Voltage, threshold and healthy insulation must be above 0, the tolerance from 0 up to but not 1.",
    next: `Correct the value named in the message. ${program}`,
  },
];
