import { CircuitError, requireWithin } from "./circuit-error.ts";

/**
 * Insulation tests of an array, as IEC 62446-1 lays out two ways: each pole to earth in turn, or both poles joined and then to earth
 * [memory of the standard; the arithmetic is computed].
 *
 * A tester that ignores the array's own voltage shows testV / current. On a lit array the leak is driven by testV minus what the
 * pole would have by itself, so one reading errs by a factor and can even be negative; two readings together undo it.
 */
export interface PoleByPole {
  /** Forced from earth onto each pole, sign included [V]. */
  readonly testV: number;
  /** As shown at each pole, sign included; negative where the array overpowered the tester [Ω]. */
  readonly atPositiveOhms: number;
  readonly atNegativeOhms: number;
  readonly openCircuitV: number;
}

/**
 * One insulation resistance, and where the leak sits, from the two pole readings of a lit array.
 *
 * I₋ − I₊ = G·V_oc gives G; the sum gives the centroid. Not for a dark array, whose cells neither conduct nor hold a known voltage.
 * @throws CircuitError CIRCUIT_VALUE_OUT_OF_RANGE when the two readings show no leak between them.
 * Check: checks/circuit-worked; string.test.ts inverts `testerReads`.
 */
export function leakFromPoles(test: PoleByPole): { readonly leakOhms: number; readonly share: number } {
  const { testV, atPositiveOhms, atNegativeOhms, openCircuitV } = test;
  requireWithin("open-circuit voltage", openCircuitV, Number.MIN_VALUE, 1e5, "V");
  const positiveA = testV / atPositiveOhms;
  const negativeA = testV / atNegativeOhms;
  const leakS = (negativeA - positiveA) / openCircuitV;
  if (!(leakS > 0))
    throw new CircuitError(
      "CIRCUIT_VALUE_OUT_OF_RANGE",
      `${atPositiveOhms} Ω at + and ${atNegativeOhms} Ω at − leave no leak; allowed: more current at − than at +`,
    );
  const centroidV = (positiveA + negativeA) / (2 * leakS) - testV + openCircuitV / 2;
  return { leakOhms: 1 / leakS, share: centroidV / openCircuitV };
}

/**
 * What a pole reading of a lit array is multiplied by: shown = true · testV / (testV − freeV), for a tester of no resistance.
 * `freeV` is the potential the pole has by itself, sign included. Negative: the array overpowers the tester.
 */
export function litArrayBias(testV: number, freeV: number): number {
  requireWithin("test voltage (size)", Math.abs(testV), Number.MIN_VALUE, 1e6, "V");
  return testV / (testV - freeV);
}

/**
 * Two pole readings as one figure where they saw different leaks, each pole its own: both in parallel.
 * Where both saw the same leaks (an intact string), that halves the truth: use `leakFromPoles`.
 */
export function separatePolesInParallel(atPositiveOhms: number, atNegativeOhms: number): number {
  requireWithin("reading at +", atPositiveOhms, Number.MIN_VALUE, 1e15, "Ω");
  requireWithin("reading at −", atNegativeOhms, Number.MIN_VALUE, 1e15, "Ω");
  return 1 / (1 / atPositiveOhms + 1 / atNegativeOhms);
}
