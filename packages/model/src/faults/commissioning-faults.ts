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
} as const satisfies Readonly<Record<string, Explanation>>;
