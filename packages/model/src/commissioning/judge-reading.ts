import {
  acceptedUnits,
  type Dimension,
  type Expected,
  formatQuantity,
  parseQuantity,
  type QuantityCode,
  type QuantityOf,
} from "@earthbell/engine";

/** A reading beyond the end of an instrument: `> 1 GΩ`. */
const BEYOND = /^\s*([<>≥≤]=?)\s*/u;

/** What is wrong with a text that should be a quantity of its line. */
interface ReadingProblem {
  /** Which of the two texts. */
  readonly of: "reading" | "limit";
  readonly code: QuantityCode;
  readonly message: string;
  readonly allowed: string;
}

/**
 * What a reading says of its line: passes or fails where the line has a limit on one side, nothing where a person has to decide,
 * and what is wrong with it where it cannot be read.
 */
export type Judgement =
  | { readonly verdict: "passes" | "fails"; readonly text: string }
  | { readonly verdict: "a-person-decides" }
  | { readonly verdict: "unreadable"; readonly why: ReadingProblem };

/**
 * Judges one reading of a commissioning by the limit of its line.
 *
 * @param reading  as the instrument showed it, with its unit; `<` or `>` before it beyond the end of the instrument
 * @param line     what the step of the proof expects there
 * @param own      a limit that the job goes by instead; null: the program's
 */
export function judgeReading(reading: string, line: Expected, own: string | null = null): Judgement {
  const { dimension, bound } = line;
  if (dimension === undefined) return { verdict: "a-person-decides" };
  const read = parseQuantity(reading.replace(BEYOND, ""), dimension);
  if (!read.ok) {
    const allowed = `${acceptedUnits(dimension)}; < or > before it beyond the end of the instrument`;
    const { code, message } = read.problem;
    return { verdict: "unreadable", why: { of: "reading", code, message, allowed } };
  }
  const limit = own === null ? null : parseQuantity(own, dimension);
  if (own !== null && limit?.ok !== true) {
    const message = `${own} is no limit for this line.`;
    const allowed = acceptedUnits(dimension);
    return { verdict: "unreadable", why: { of: "limit", code: "QUANTITY_NOT_A_NUMBER", message, allowed } };
  }
  const value = limit?.ok === true ? limit.value : line.value;
  if (value === undefined || bound === undefined) return { verdict: "a-person-decides" };
  const sign = BEYOND.exec(reading)?.[1]?.[0] ?? " ";
  const least = bound === "at-least";
  const fails = least
    ? read.value < value && !">≥".includes(sign)
    : read.value > value && !"<≤".includes(sign);
  const side = least ? (fails ? "below" : "not below") : fails ? "above" : "not above";
  const limitWords =
    own === null
      ? `${formatQuantity(value as QuantityOf[Dimension], dimension, { significant: 4 })}, the limit`
      : `${own}, the limit of this job`;
  return { verdict: fails ? "fails" : "passes", text: `${reading.trim()} is ${side} ${limitWords}` };
}
