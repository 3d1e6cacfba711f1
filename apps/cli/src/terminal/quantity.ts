import { type Dimension, formatQuantity, type QuantityOf } from "@earthbell/engine";

/** Keeps a number and its unit on one line; the sheet turns it into an ordinary space at the end. */
export const hardSpace = "\u00a0";

/** `732600, resistance` → `732.6 kΩ`, on one line and with a true minus sign. */
export function quantity(value: number, dimension: Dimension, significant = 4): string {
  if (!Number.isFinite(value)) return "beyond measure";
  const text = formatQuantity(value as QuantityOf[Dimension], dimension, { significant });
  return text.replaceAll(" ", hardSpace).replace(/^-/u, "−");
}

/** `10320, 10110, 10540` → `10.3 kΩ  10.1–10.5`: a resistance with its interval, in the same unit where one serves both. */
export function resistanceWithInterval(interval: {
  readonly ohms: number;
  readonly low: number;
  readonly high: number;
}): string {
  const [value, low, high] = [interval.ohms, interval.low, interval.high].map((ohms) =>
    quantity(ohms, "resistance", 3),
  ) as [string, string, string];
  const unit = unitOf(value);
  const oneUnit = unitOf(low) === unit && unitOf(high) === unit;
  const bounds = oneUnit ? `${numberOf(low)}–${numberOf(high)}` : `${low}–${high}`;
  return `${value}${hardSpace.repeat(2)}${bounds}`;
}

function unitOf(text: string): string {
  return text.split(hardSpace).slice(1).join(hardSpace);
}

function numberOf(text: string): string {
  return text.split(hardSpace)[0]!;
}

/** A bare number for people, with a true minus sign. */
export function figure(value: number, significant = 4): string {
  return String(Number(value.toPrecision(significant))).replace(/^-/u, "−");
}
