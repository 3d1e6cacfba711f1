import type { Predictions } from "./predict.ts";
import type { Scenario } from "./scenarios.ts";

/** Information that a set of readings is expected to give about the place, in bits. */
export interface Gain {
  readonly bits: number;
  /** Per scenario taken as the truth: the weights of all scenarios after the readings. */
  readonly after: readonly Float64Array[];
}

const LN2 = Math.log(2);

/** Entropy of the answer in bits: which place, or no fault, two faults, wetness. */
export function placeEntropyBits(scenarios: readonly Scenario[], weights: ArrayLike<number>): number {
  const sums = new Map<number, number>();
  for (let i = 0; i < scenarios.length; i++) {
    const answer = scenarios[i]!.answer;
    sums.set(answer, (sums.get(answer) ?? 0) + weights[i]!);
  }
  let bits = 0;
  for (const sum of sums.values()) if (sum > 0) bits -= (sum * Math.log(sum)) / LN2;
  return bits;
}

/**
 * Expected drop of the answer's entropy: each scenario in turn is the truth, its predicted readings are weighed against
 * every other's. Distances use both variances, which stands for the noise of the outcome itself.
 */
export function expectedGain(
  scenarios: readonly Scenario[],
  weights: Float64Array,
  predictions: readonly Predictions[],
): Gain {
  const count = scenarios.length;
  const before = placeEntropyBits(scenarios, weights);
  const likeness = likenesses(count, predictions);
  const after: Float64Array[] = [];
  let expected = 0;
  for (let truth = 0; truth < count; truth++) {
    const posterior = new Float64Array(count);
    let sum = 0;
    for (let other = 0; other < count; other++)
      sum += posterior[other] = weights[other]! * likeness[truth * count + other]!;
    for (let other = 0; other < count; other++) posterior[other]! /= sum;
    after.push(posterior);
    expected += weights[truth]! * placeEntropyBits(scenarios, posterior);
  }
  return { bits: Math.max(0, before - expected), after };
}

/** For each pair of scenarios, how alike their predicted readings are: 1 the same, 0 told apart for certain. */
function likenesses(count: number, predictions: readonly Predictions[]): Float64Array {
  const likeness = new Float64Array(count * count);
  for (let a = 0; a < count; a++) {
    likeness[a * count + a] = 1;
    for (let b = 0; b < a; b++) {
      let distance = 0;
      for (const { values, variances } of predictions) {
        const difference = values[a]! - values[b]!;
        distance += (difference * difference) / (variances[a]! + variances[b]!);
        if (distance > 60) break;
      }
      likeness[a * count + b] = likeness[b * count + a] = Math.exp(-distance / 2);
    }
  }
  return likeness;
}
