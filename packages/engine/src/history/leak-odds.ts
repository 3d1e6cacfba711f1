import type { Like } from "./like-mornings.ts";

/** Factors by which a step may lower the dry level; all alike before anything is read [design choice]. */
const STEP_FACTORS = [4.5, 6, 9, 14, 22, 40] as const;
/** Past mornings count together as so many, and a few more are taken to have shown any value: none is impossible [design choice]. */
const COUNT_AS = 40;
const ANY = 0.6;
const LEAST_LIKE = 3;
/** No single morning counts for more than this [ln; design choice]. */
const MOST = 5;
/** Squared distance beyond which a reading is another. */
const FAR = 25;

export interface Reading {
  /** log10 Ω, referred to one temperature and season. */
  readonly values: readonly number[];
  /** What referring took off the measured values, given back before a leak is added [decades]. */
  readonly shift: number;
  /** How far the array lies off its past lately [decades]. */
  readonly lately: number;
  /** Level of the dry array, which the factors are of [log10 Ω]. */
  readonly dry: number;
  /** Within which each of the values counts as the same [decades]. */
  readonly widths: readonly number[];
}

/**
 * ln of how much likelier a morning is after a step than on the array as it was, for each of the factors.
 *
 * As it was, the morning shows what past mornings with like water showed. After a step it shows the same with a leak
 * beside it, added as a conductance: a wet morning, which conducts anyway, falls by less than a dry one. Both are smoothed
 * densities of past values; where past mornings of the same weather differ much, the odds stay near even.
 */
export function leakOdds(reading: Reading, like: readonly Like[]): readonly number[] {
  const { values, shift, lately, dry, widths } = reading;
  const leaks = STEP_FACTORS.map((factor) => (factor - 1) / 10 ** dry);
  const fallen = leaks.map(() => 0);
  let [together, asItWas] = [0, 0];
  for (const { morning, weight } of like) {
    together += weight;
    const before = morning.values.map((value) => value + lately);
    asItWas += weight * alike(values, before, widths);
    const siemens = before.map((value) => 10 ** -(value + shift));
    leaks.forEach((leak, i) => {
      const after = siemens.map((one) => -Math.log10(one + leak) - shift);
      fallen[i]! += weight * alike(values, after, widths);
    });
  }
  const count = COUNT_AS / Math.max(LEAST_LIKE, together);
  return fallen.map((one) => {
    const odds = Math.log((count * one + ANY) / (count * asItWas + ANY));
    return Math.min(MOST, Math.max(-MOST, odds));
  });
}

/** ln odds of some mornings together, whichever the factor: the same leak must explain them all. */
export function oddsTogether(mornings: readonly (readonly number[])[]): number {
  const each = STEP_FACTORS.map((_, i) => Math.exp(mornings.reduce((sum, odds) => sum + odds[i]!, 0)));
  return Math.log(each.reduce((sum, one) => sum + one, 0) / each.length);
}

function alike(a: readonly number[], b: readonly number[], widths: readonly number[]): number {
  let squared = 0;
  for (let i = 0; i < a.length && squared < FAR; i++) squared += ((a[i]! - b[i]!) / widths[i]!) ** 2;
  return squared < FAR ? Math.exp(-squared / 2) : 0;
}
