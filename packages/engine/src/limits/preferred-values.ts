import type { Ohms } from "../quantity/index.ts";

/** IEC 60063 preferred values of one decade [memory]. */
export const E12 = [1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2] as const;
export const E24 = [
  1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8,
  7.5, 8.2, 9.1,
] as const;

/** Rounding of decimals to binary must not push a preferred value over its own limit. */
const SLACK = 1e-12;

/**
 * Highest preferred value not above a resistance.
 *
 * @param ohms  > 0
 * Check: checks/iec-60063
 * @example preferredAtMost(24_590, E24) is 24 kΩ
 */
export function preferredAtMost(ohms: Ohms, series: readonly number[] = E24): Ohms {
  const { decade, mantissa } = inDecade(ohms);
  const below = series.filter((value) => value <= mantissa * (1 + SLACK));
  return scaled(below.at(-1)!, decade);
}

/** Lowest preferred value not below a resistance. */
export function preferredAtLeast(ohms: Ohms, series: readonly number[] = E24): Ohms {
  const { decade, mantissa } = inDecade(ohms);
  const above = series.find((value) => value >= mantissa * (1 - SLACK));
  return above === undefined ? scaled(series[0]!, decade + 1) : scaled(above, decade);
}

function inDecade(ohms: number): { readonly decade: number; readonly mantissa: number } {
  if (!(ohms > 0) || !Number.isFinite(ohms))
    throw new RangeError(
      `LIMITS_RESISTANCE_NOT_POSITIVE: resistance must be above 0 Ω and finite, not ${ohms}`,
    );
  const guess = Math.floor(Math.log10(ohms));
  // log10 may land just under a power of ten; the mantissa belongs to [1, 10).
  const decade = ohms / 10 ** guess >= 10 * (1 - SLACK) ? guess + 1 : guess;
  return { decade, mantissa: Math.max(1, ohms / 10 ** decade) };
}

/** 2.4 × 10⁴ by decimal text, so that 24 kΩ is 24000 and not 23999.999999999996. */
function scaled(value: number, decade: number): Ohms {
  return Number(`${value}e${decade}`) as Ohms;
}
