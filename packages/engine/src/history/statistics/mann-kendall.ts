import { autocorrelation } from "./autocorrelation.ts";
import { mergeOrder } from "./merge-order.ts";
import { normalTail } from "./normal.ts";
import { theilSen } from "./theil-sen.ts";
import { midRanks, tieSizes } from "./ties.ts";

export interface MannKendall {
  /** Rising pairs minus falling pairs. */
  readonly score: number;
  /** Variance of the score without a trend, ties counted. */
  readonly variance: number;
  /** Factor that the variance was multiplied by for serial dependence; 1 when none was asked for. */
  readonly varianceFactor: number;
  /** Standardised score with the correction for continuity. */
  readonly z: number;
  /** Two-sided. */
  readonly p: number;
}

/**
 * Mann–Kendall test of values in order of time for a monotone trend, in O(n log n).
 *
 * A step passes it as well as a slope does: what kind of change it is has to be asked of other tests.
 *
 * Source: Mann 1945, Kendall 1975 [memory]. Check: checks/history-statistics (three published series)
 */
export function mannKendall(values: ArrayLike<number>, varianceFactor = 1): MannKendall {
  const n = values.length;
  const ties = tieSizes(values);
  const tiedPairs = ties.reduce((sum, size) => sum + (size * (size - 1)) / 2, 0);
  const score = (n * (n - 1)) / 2 - tiedPairs - 2 * fallingPairs(values);
  const term = (k: number): number => k * (k - 1) * (2 * k + 5);
  const variance = (term(n) - ties.reduce((sum, size) => sum + term(size), 0)) / 18;
  const deviation = Math.sqrt(variance * varianceFactor);
  const z = deviation === 0 ? 0 : (score - Math.sign(score)) / deviation;
  return { score, variance, varianceFactor, z, p: Math.min(1, 2 * normalTail(Math.abs(z))) };
}

function fallingPairs(values: ArrayLike<number>): number {
  const order = Uint32Array.from({ length: values.length }, (_, i) => i);
  // Equal values keep their order and count as neither.
  return mergeOrder(order, Float64Array.from(values), order.slice(), new Uint32Array(values.length));
}

/**
 * Factor on the variance of the score for values that depend on their neighbours.
 *
 * The values are detrended by Theil–Sen, ranked, and the significant autocorrelations of the ranks (beyond ±1.96/√n) up to
 * a lag are summed. Never below 1: a factor below would claim more certainty than independent values have.
 *
 * @param maxLag  largest lag looked at; 10·log₁₀ n when left out, since far lags are mostly noise
 * Source: Hamed and Rao 1998 [memory], whose sum runs over all lags. Check: checks/history-statistics
 */
export function serialVarianceFactor(values: ArrayLike<number>, maxLag?: number): number {
  const n = values.length;
  if (n < 10) return 1;
  const lags = Math.min(maxLag ?? Math.ceil(10 * Math.log10(n)), n - 3);
  const days = Float64Array.from({ length: n }, (_, i) => i);
  const slope = theilSen(days, values)?.slope ?? 0;
  const ranks = midRanks(Array.from(values, (value, i) => value - slope * i));
  const bound = 1.96 / Math.sqrt(n);
  let sum = 0;
  autocorrelation(ranks, lags).forEach((r, index) => {
    const lag = index + 1;
    if (Math.abs(r) > bound) sum += (n - lag) * (n - lag - 1) * (n - lag - 2) * r;
  });
  return Math.max(1, 1 + (2 * sum) / (n * (n - 1) * (n - 2)));
}
