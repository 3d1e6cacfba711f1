import { plainUnit, UNITS, type Dimension, type QuantityOf, type Unit } from "./dimension.ts";

export interface FormatOptions {
  /** Most significant digits to print, 1…15 (4 when left out). Trailing zeros are dropped: they would claim a precision nobody stated. */
  readonly significant?: number;
}

/**
 * Prints a quantity with the prefix that leaves 1…999 before the point, a plain space and the unit: 10300 Ω is "10.3 kΩ".
 *
 * Durations take s, min, h or d so that whole hours stay whole; ratios print in %. Reading the text back with
 * `parseQuantity` gives the value to the printed digits.
 *
 * @throws RangeError when the value is not finite: such a number must not reach a person.
 * Check: round-trip properties in format-quantity.test.ts.
 */
export function formatQuantity<D extends Dimension>(
  value: QuantityOf[D],
  dimension: D,
  options: FormatOptions = {},
): string {
  if (!Number.isFinite(value)) throw new RangeError(`A ${dimension} of ${String(value)} cannot be printed`);
  const significant = options.significant ?? 4;
  const rounded = Number(Number(value).toPrecision(significant));
  const unit = dimension === "duration" ? durationUnit(rounded) : printedUnit(rounded, dimension);
  return `${digits(inUnit(value, unit), significant)} ${unit.symbol}`;
}

/** The largest printed unit that leaves at least 1 before the point, else the smallest. */
function printedUnit(value: number, dimension: Dimension): Unit {
  if (value === 0) return plainUnit(dimension);
  const printed = UNITS[dimension].filter((unit) => !unit.readOnly);
  return printed.findLast((unit) => Math.abs(value) >= Number(`1e${String(unit.power)}`)) ?? printed[0]!;
}

/** Hours from two hours on and days from two days on, where they come out even; otherwise the unit a clock would use. */
function durationUnit(minutes: number): Unit {
  const [second, minute, hour, day] = UNITS.duration as readonly [Unit, Unit, Unit, Unit];
  const size = Math.abs(minutes);
  if (size === 0) return minute;
  if (size < 1) return second;
  if (size < 120 && size % 60 !== 0) return minute;
  return size < 2880 ? hour : day;
}

function inUnit(value: number, unit: Unit): number {
  const scaled = (value * (unit.per ?? 1)) / (unit.times ?? 1);
  const [mantissa, exponent] = scaled.toExponential().split("e") as [string, string];
  return Number(`${mantissa}e${String(Number(exponent) - unit.power)}`);
}

function digits(value: number, significant: number): string {
  const rounded = Number(value.toPrecision(significant));
  if (rounded === 0) return "0";
  const plain = Math.abs(rounded) < 1e21 && Math.abs(rounded) >= 1e-6;
  return plain ? String(rounded) : rounded.toExponential();
}
