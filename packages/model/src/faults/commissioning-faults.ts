import type { Explanation } from "./explanation.ts";

/** Faults of the results of a commissioning that do not fit the site they are of. */
export const commissioningFaults = {
  COMMISSIONING_OTHER_SITE: {
    title: "The results are of another site",
    meaning: "A commissioning record is made from a site file and the results of that very site.",
    causes: ["the file was copied from another job", "the id of the site was changed"],
    remedy: "Name the results of this site, or correct site: in them.",
  },
  COMMISSIONING_LINE_UNKNOWN: {
    title: "A result is for a line that the step does not have",
    meaning:
      "line counts the lines of the step's table in the commissioning record, from 1. A step without a table takes a result without line.",
    causes: ["strings were added to or taken from the site", "the line of another step was written"],
    remedy: "Count in the newest commissioning record of the site, or correct line.",
  },
  COMMISSIONING_PASS_CONTRADICTED: {
    title: "A result is called passed against its own reading",
    meaning:
      "The reading lies on the wrong side of the limit of its line, and the paper would state the opposite.",
    causes: ["a slip in the reading or its unit", "the job goes by another limit"],
    remedy: "Correct it, or state the limit you go by in limit and its source in limitFrom.",
  },
  COMMISSIONING_TICK_CONTRADICTED: {
    title: "A step of a setting sheet says two things at once",
    meaning:
      "A step that is done has no reason for not being done. A step of which nobody says whether it was done has no name, day or reason either.",
    causes: ["done was written wrong or left out", "a line was copied from another step"],
    remedy:
      "Write done: true with by and on, or done: false with because, or neither where the step is still open.",
  },
  COMMISSIONING_SHEET_STEPS_WRONG: {
    title: "Steps of a setting sheet are missing or out of order",
    meaning:
      "A record states every step of a sheet, also those that were not done: with one left out, a sheet that is not finished would read as if it were.",
    causes: ["a line was deleted", "steps were put in another order", "a number was written twice"],
    remedy:
      "State all steps of the sheet in its order, numbered from 1; one that was not done as done: false with because.",
  },
  COMMISSIONING_SHEET_TWICE: {
    title: "A setting sheet is ticked twice for one device",
    meaning: "Two lists of the same steps for the same device may contradict each other.",
    causes: ["a list was copied for another device and its name was not changed"],
    remedy: "Name the device of each in device, or keep the list that holds.",
  },
  COMMISSIONING_SHEET_ALTERED: {
    title: "Steps differ from the setting sheet that they are said to be of",
    meaning:
      "The digest is that of the sheet at hand, and a step reads otherwise than it does there. The record would state what nobody was asked to do.",
    causes: ["a step was worded anew in the results", "the digest was copied from another revision"],
    remedy: "Write the step as the sheet has it, or give the digest of the sheet that was ticked.",
  },
} as const satisfies Readonly<Record<string, Explanation>>;
