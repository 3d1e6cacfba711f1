import type { ArrayAssessment, PathAssessment } from "./assessment.ts";
import type { PvArray } from "./site.ts";

/** `30 kΩ`, to four digits. */
export function kilohms(ohms: number): string {
  return `${Number((ohms / 1000).toPrecision(4))} kΩ`;
}

type Otherwise = NonNullable<NonNullable<ArrayAssessment["insulationThreshold"]>["otherwise"]>;

/** The rating by which a table may be read. */
export function ratingWords(rating: Otherwise["rating"]): string {
  return rating === "array-kilowatts" ? "the array's kW" : "the inverter's kVA";
}

export const verdictWords: Readonly<Record<PathAssessment["verdict"], string>> = {
  meets: "meets what is asked",
  "falls-short": "falls short",
  unproven: "is not proved",
  "cannot-tell": "cannot be judged",
};

export const earthingWords: Readonly<Record<NonNullable<PvArray["earthing"]>, string>> = {
  floating: "floating",
  functional: "functionally earthed",
  solid: "solidly earthed",
};
