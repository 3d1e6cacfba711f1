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

/** Names that a sentence still carries. */
const NAMED_AT_MOST = 12;

/** `A1, A2, A3`; of very many only the first ones, and how many more. */
export function namesOf(ids: readonly string[]): string {
  const more = ids.length - NAMED_AT_MOST;
  const shown = ids.slice(0, NAMED_AT_MOST).join(", ");
  return more > 0 ? `${shown} and ${more} more` : shown;
}
