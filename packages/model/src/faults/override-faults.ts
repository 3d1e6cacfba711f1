import type { Explanation } from "./explanation.ts";

/** Faults of values that are put in the place of a rule pack's own, at a desk or in a file. */
export const overrideFaults = {
  RULES_OVERRIDE_UNKNOWN: {
    title: "There is no such value to override",
    meaning: "The rule pack is not held here, or has no number at that place.",
    causes: ["the id or the place was misspelt", "the pack is one's own and was not handed over with it"],
    remedy:
      "Take id and place from the place Rules of the desk, or from what the fault lists as allowed. On the command line hand over an own pack with --rules.",
  },
  RULES_OVERRIDE_SAME: {
    title: "The override changes nothing",
    meaning: "The pack says the same value by itself, so that nothing is there to override.",
    causes: ["the pack was corrected meanwhile", "the pack's own value was copied"],
    remedy: "Give another value, or leave the override out.",
  },
  RULES_OVERRIDE_VALUE: {
    title: "The value of an override is not one that the pack may have",
    meaning: "The pack with that value in it would not be taken as a rule pack.",
    causes: ["the value is in another unit", "a count is no whole number", "two bounds cross"],
    remedy: "Give a value that the fault calls allowed.",
  },
  RULES_OVERRIDE_REASON: {
    title: "An override does not say why, or from what",
    meaning: "A value that differs from its edition needs a reason and a source that somebody can look up.",
    causes: ["because or source was left blank"],
    remedy: "Write why, and name the document, letter or clause that the value is taken from.",
  },
  RULES_OVERRIDE_WEAKER: {
    title: "The override asks for less of the alarm, and that was not confirmed",
    meaning:
      "A value in that direction may leave a fault unseen or unheard that the published rule would catch.",
    causes: ["the value is weaker than the pack's own", "neither direction of this value is safe by itself"],
    remedy:
      "Check the source once more, and confirm it: at the desk in the form, in a file with confirmed: true.",
  },
  RULES_OVERRIDE_REPEATED: {
    title: "A value is overridden twice",
    meaning: "Only one of them can be in force, and the file does not say which.",
    causes: ["an entry was copied and not changed", "two files were joined"],
    remedy: "Keep the one that is in force.",
  },
} as const satisfies Readonly<Record<`RULES_OVERRIDE_${string}`, Explanation>>;
