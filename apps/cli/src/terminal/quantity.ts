/** Keeps a number and its unit on one line; the writer turns it into an ordinary space. */
export const hardSpace = "\u00a0";

interface Prefix {
  readonly factor: number;
  readonly sign: string;
}
const kiloPrefixes: readonly Prefix[] = [
  { factor: 1e9, sign: "G" },
  { factor: 1e6, sign: "M" },
  { factor: 1e3, sign: "k" },
  { factor: 1, sign: "" },
];

/** Units that are always written without a prefix, as the trade does. */
const unprefixed: ReadonlySet<string> = new Set(["V", "mA", "m²", "°C", "h", "min", "dB(A)", "m", "A"]);

/** `732600, Ω` → `732.6 kΩ`: four significant figures at most, no trailing zeros. */
export function quantity(value: number, unit: string, significant = 4): string {
  if (!Number.isFinite(value)) return value > 0 ? `beyond measure` : `none`;
  const { factor, sign } = prefixFor(value, unit);
  return `${figure(value / factor, significant)}${hardSpace}${sign}${unit}`;
}

/** `10320, 10110, 10540, Ω` → `10.3 kΩ  10.1–10.5`: a value with its interval in the same unit. */
export function quantityWithInterval(
  { value, low, high }: { readonly value: number; readonly low: number; readonly high: number },
  unit: string,
): string {
  const { factor } = prefixFor(value, unit);
  const end = (bound: number): string =>
    Number.isFinite(bound) ? figure(bound / factor, 3) : "beyond measure";
  return `${quantity(value, unit, 3)}${hardSpace.repeat(2)}${end(low)}–${end(high)}`;
}

/** A bare number for people, with a true minus sign. */
export function figure(value: number, significant = 4): string {
  return String(Number(value.toPrecision(significant))).replace(/^-/u, "−");
}

function prefixFor(value: number, unit: string): Prefix {
  const plain = { factor: 1, sign: "" };
  if (unprefixed.has(unit) || !Number.isFinite(value)) return plain;
  return kiloPrefixes.find(({ factor }) => Math.abs(value) >= factor) ?? plain;
}
