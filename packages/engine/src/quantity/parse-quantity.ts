import { acceptedUnits, plainUnit, UNITS, type Dimension, type QuantityOf, type Unit } from "./dimension.ts";
import { dimensionOf, unitOf, unitsInOtherCase } from "./unit-spelling.ts";

export type QuantityCode =
  | "QUANTITY_TEXT_EMPTY"
  | "QUANTITY_NOT_A_NUMBER"
  | "QUANTITY_DECIMAL_COMMA"
  | "QUANTITY_NUMBER_TOO_LARGE"
  | "QUANTITY_UNIT_MISSING"
  | "QUANTITY_UNIT_WRONG";

export interface QuantityProblem {
  /** Stable for ever; the text may change. */
  readonly code: QuantityCode;
  /** What would be accepted, in words. */
  readonly allowed: string;
  /** One sentence for a person. */
  readonly message: string;
}

export type QuantityResult<Value> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly problem: QuantityProblem };

export interface ParseOptions {
  /** Whether a number without a unit is taken in the base unit. Refused by default. A ratio needs no unit. */
  readonly bareNumber?: "refuse" | "base unit";
}

/** Longer than any honest quantity; keeps a pasted page out of messages and loops. */
const LONGEST_TEXT = 80;

const NUMBER_THEN_UNIT = /^([+-]?)(\d+\.?\d*|\.\d+)(?:[eE]([+-]?\d+))?(?![\d.])\s*(.*)$/su;

/**
 * Reads a quantity written as text, such as "30 kΩ", "30 kohm", "1.5 mm2" or "−0.27 %/K".
 *
 * The number is decimal with a point; the unit follows with or without a space; capitals matter (mΩ is not MΩ). Prefixes
 * shift the decimal exponent of the text itself, so "0.3 %" is exactly the double nearest to 0.003.
 *
 * @returns the value in the base unit of the dimension (durations: minutes; ratios: 1), or the first problem found. Never
 *   NaN or infinite, never throws.
 * Check: parse-quantity.test.ts (table) and round-trip properties in format-quantity.test.ts.
 */
export function parseQuantity<D extends Dimension>(
  text: string,
  dimension: D,
  options: ParseOptions = {},
): QuantityResult<QuantityOf[D]> {
  const trimmed = text.trim().replace(/\u2212/gu, "-");
  if (trimmed === "")
    return refused("QUANTITY_TEXT_EMPTY", dimension, "Nothing is written where a quantity belongs.");
  const parts = trimmed.length <= LONGEST_TEXT ? NUMBER_THEN_UNIT.exec(trimmed) : null;
  if (!parts) return noNumber(trimmed, dimension);
  const [, sign, digits, exponent = "0", written = ""] = parts as unknown as [
    string,
    string,
    string,
    string?,
    string?,
  ];
  if (/^,\s*\d/u.test(written)) return decimalComma(trimmed, dimension);
  if (/^[\d'_x]/iu.test(written) && !unitOf(written, dimension)) return noNumber(trimmed, dimension);
  const unit = written === "" ? bareUnit(dimension, options) : unitOf(written, dimension);
  if (!unit) return written === "" ? unitMissing(trimmed, dimension) : unitWrong(written, dimension);
  const value = inBaseUnit(`${sign}${digits}`, Number(exponent), unit);
  if (!Number.isFinite(value))
    return refused(
      "QUANTITY_NUMBER_TOO_LARGE",
      dimension,
      `${shown(trimmed)} is too large to be calculated with.`,
    );
  return { ok: true, value: value as QuantityOf[D] };
}

function inBaseUnit(digits: string, exponent: number, unit: Unit): number {
  const value = Number(`${digits}e${String(exponent + unit.power)}`);
  const scaled = (value * (unit.times ?? 1)) / (unit.per ?? 1);
  return scaled === 0 ? 0 : scaled;
}

function bareUnit(dimension: Dimension, options: ParseOptions): Unit | undefined {
  if (dimension === "ratio") return UNITS.ratio.find((unit) => unit.symbol === "");
  return options.bareNumber === "base unit" ? { symbol: "", power: 0 } : undefined;
}

function refused(code: QuantityCode, dimension: Dimension, message: string): QuantityResult<never> {
  return { ok: false, problem: { code, allowed: acceptedUnits(dimension), message } };
}

function noNumber(text: string, dimension: Dimension): QuantityResult<never> {
  if (/^[+-]?\d+,\d/u.test(text)) return decimalComma(text, dimension);
  const grouped = /^[+-]?\d{1,3}([\s'_]\d{3})+/u.test(text) ? " Write digits without grouping." : "";
  return refused(
    "QUANTITY_NOT_A_NUMBER",
    dimension,
    `${shown(text)} does not begin with a decimal number.${grouped}`,
  );
}

function decimalComma(text: string, dimension: Dimension): QuantityResult<never> {
  return refused(
    "QUANTITY_DECIMAL_COMMA",
    dimension,
    `${shown(text)} has a comma, which could mean a decimal or a thousand. Write a decimal point, and no grouping.`,
  );
}

function unitMissing(text: string, dimension: Dimension): QuantityResult<never> {
  return refused(
    "QUANTITY_UNIT_MISSING",
    dimension,
    `${shown(text)} has no unit. Write it with one, for example ${shown(`${text} ${plainUnit(dimension).symbol}`)}.`,
  );
}

function unitWrong(written: string, dimension: Dimension): QuantityResult<never> {
  const meant = unitsInOtherCase(written, dimension);
  const other = dimensionOf(written);
  if (meant.length > 0)
    return refused(
      "QUANTITY_UNIT_WRONG",
      dimension,
      `Capitals matter in units: write ${meant.join(" or ")} for ${shown(written)}.`,
    );
  if (other)
    return refused(
      "QUANTITY_UNIT_WRONG",
      dimension,
      `${shown(written)} is a unit of ${other}, and ${dimension} is wanted here.`,
    );
  return refused("QUANTITY_UNIT_WRONG", dimension, `${shown(written)} is not a unit of ${dimension}.`);
}

function shown(text: string): string {
  return `"${text.length > 40 ? `${text.slice(0, 39)}…` : text}"`;
}
