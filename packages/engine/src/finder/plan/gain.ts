import type { Prediction } from "./predict.ts";
import type { Scenario } from "./scenarios.ts";

/** Information that a set of readings is expected to give about the place, in bits. */
export interface Gain {
  readonly bits: number;
  /** Per scenario taken as the truth: the weights of all scenarios after the readings. */
  readonly after: readonly Float64Array[];
}

const LN2 = Math.log(2);

/** Entropy of the place in bits, "no fault" counting as a place of its own. */
export function placeEntropyBits(scenarios: readonly Scenario[], weights: ArrayLike<number>): number {
  const sums = new Map<number, number>();
  for (let i = 0; i < scenarios.length; i++) {
    const place = scenarios[i]!.place;
    sums.set(place, (sums.get(place) ?? 0) + weights[i]!);
  }
  let bits = 0;
  for (const sum of sums.values()) if (sum > 0) bits -= (sum * Math.log(sum)) / LN2;
  return bits;
}

/**
 * Expected drop of the place's entropy: each scenario in turn is the truth, its predicted readings are weighed against
 * every other's. Distances use twice the variance, which stands for the noise of the outcome itself.
 */
export function expectedGain(
  scenarios: readonly Scenario[],
  weights: Float64Array,
  predictions: readonly (readonly Prediction[])[],
): Gain {
  const before = placeEntropyBits(scenarios, weights);
  let expected = 0;
  const after: Float64Array[] = [];
  for (let truth = 0; truth < scenarios.length; truth++) {
    const posterior = new Float64Array(scenarios.length);
    after.push(posterior);
    if (weights[truth]! < 1e-6) continue;
    let sum = 0;
    for (let other = 0; other < scenarios.length; other++) {
      if (weights[other]! < 1e-9) continue;
      let distance = 0;
      for (const reading of predictions) {
        const a = reading[truth]!;
        const b = reading[other]!;
        const difference = a.value - b.value;
        distance += (difference * difference) / (a.sd * a.sd + b.sd * b.sd);
        if (distance > 60) break;
      }
      const value = weights[other]! * Math.exp(-distance / 2);
      posterior[other] = value;
      sum += value;
    }
    for (let other = 0; other < scenarios.length; other++) posterior[other]! /= sum;
    expected += weights[truth]! * placeEntropyBits(scenarios, posterior);
  }
  return { bits: Math.max(0, before - expected), after };
}
