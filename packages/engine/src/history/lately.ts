import type { Like } from "./like-mornings.ts";

/** How far an array lies off its past just now: it wanders, and a season moves it. */
export interface Lately {
  readonly decades: number;
  /** Of that figure [decades²]. */
  readonly variance: number;
}

export const AT_FIRST: Lately = { decades: 0, variance: 0.01 };
/** What a day may add, what one morning may say at most, and how fast it is forgotten [decades; design choices]. */
const DAILY = 0.015;
const MOST = 0.15;
const KEPT = 0.99;
const LEAST_VARIANCE = 0.0004;

/** Follows the array by one more usual morning (Kalman's gain): one whose like vary much says little. */
export function latelyAfter(before: Lately, value: number, like: readonly Like[]): Lately {
  let [together, sum, squares] = [0, 0, 0];
  for (const { morning, weight } of like) {
    const one = morning.values[0]!;
    together += weight;
    sum += weight * one;
    squares += weight * one * one;
  }
  if (together === 0) return before;
  const middle = sum / together;
  const scatter = Math.max(LEAST_VARIANCE, squares / together - middle * middle);
  const variance = before.variance + DAILY ** 2;
  const gain = variance / (variance + scatter);
  const off = Math.max(-MOST, Math.min(MOST, value - middle - before.decades));
  return { decades: KEPT * (before.decades + gain * off), variance: variance * (1 - gain) };
}
