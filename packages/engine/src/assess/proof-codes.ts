import type { SiteCodeEntry } from "./site-codes.ts";

const ours = { source: "rule of this program", tag: "design choice" } as const;

export const proofResistorCodes = {
  PROOF_ARRAY_NOT_FLOATING: {
    title: "No test resistor for an array with an earthed conductor",
    meaning:
      "On an earthed array the current of a resistor to earth returns through the earth connection; the resistors given here are for floating arrays.",
    next: "Prove the interrupter or the check by the maker's own test.",
    severity: "note",
    ...ours,
  },
  PROOF_EARTHING_UNKNOWN: {
    title: "No test resistor while the earthing of the array is not stated",
    meaning:
      "The resistors given here are for floating arrays; on an earthed one a resistor would be dangerous and prove nothing.",
    next: "Record whether the array is floating, functionally earthed or solidly earthed.",
    severity: "caution",
    ...ours,
  },
  PROOF_NOT_WORKED_OUT: {
    title: "No test resistor can be worked out",
    meaning:
      "The highest array voltage and the insulation threshold decide the resistor, and one of them is not known.",
    next: "Supply what the finding names.",
    severity: "note",
    ...ours,
  },
  PROOF_KIND_DECLINED: {
    title: "No test figures for this kind of array",
    meaning:
      "With power electronics at the modules, or storage on the direct-current side, the program does not say what may be connected or applied.",
    next: "Use the maker's own procedure for insulation test and alarm test.",
    severity: "note",
    ...ours,
  },
  PROOF_CURRENT_TOO_HIGH: {
    title: "The test resistor must not be connected",
    meaning:
      "A resistor low enough to operate the alarm would carry more than the residual-current limit of the inverter.",
    next: "Prove the alarm by the maker's own test.",
    severity: "fault",
    ...ours,
  },
  PROOF_TEST_VOLTAGE_ABOVE_ARRAY: {
    title: "The insulation test applies more voltage than the array itself reaches",
    meaning:
      "Modules, cables, connectors, surge protectors and electronics that are not made for the test voltage can break down, and a place weakened by the test can fail later.",
    next: "Before the test, see in their papers that all that stays connected bears the test voltage; disconnect what does not, the inverter included. Where the papers do not say so, do not apply it.",
    severity: "caution",
    ...ours,
  },
  PROOF_TEST_IN_GROUPS: {
    title: "Test the insulation string by string or in groups",
    meaning:
      "An array above 10 kWp is tested in groups of at most 10 kWp, so that one weak string is not hidden or blamed on all.",
    next: "Divide the array, test each group, and divide a group that fails.",
    severity: "note",
    source: "IEC 62446-1",
    tag: "memory",
  },
} as const satisfies Readonly<Record<`PROOF_${string}`, SiteCodeEntry>>;
