import { midRanks } from "./ties.ts";

/** Sums of values and squares before each index, about the first value to keep digits. */
export interface RunningSums {
  readonly sum: Float64Array;
  readonly square: Float64Array;
}

export function runningSums(values: ArrayLike<number>): RunningSums {
  const n = values.length;
  const origin = n === 0 ? 0 : values[0]!;
  const sum = new Float64Array(n + 1);
  const square = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) {
    const value = values[i]! - origin;
    sum[i + 1] = sum[i]! + value;
    square[i + 1] = square[i]! + value * value;
  }
  return { sum, square };
}

/** Sum of squares about their mean of values[from … to). */
export function squaresWithin({ sum, square }: RunningSums, from: number, to: number): number {
  const total = sum[to]! - sum[from]!;
  return Math.max(0, square[to]! - square[from]! - (total * total) / (to - from));
}

/**
 * Indices at which the level of a series changes: each begins a new stretch.
 *
 * The best of all partitions into stretches of constant mean, counting the squares about the means and `penalty` for each
 * change, found exactly by dynamic programming with PELT's pruning.
 *
 * @param penalty       price of one change, in squared units of the values, > 0
 * @param leastStretch  shortest stretch; 1 when left out
 * Source: optimal partitioning, Jackson et al. 2005; PELT, Killick, Fearnhead and Eckley 2012 [memory; cost linear in
 * expectation, published: arXiv 1101.1438]. Check: checks/history-statistics
 */
export function changePoints(values: ArrayLike<number>, penalty: number, leastStretch = 1): number[] {
  const n = values.length;
  const sums = runningSums(values);
  const best = new Float64Array(n + 1).fill(Infinity);
  const previous = new Int32Array(n + 1);
  best[0] = -penalty;
  let candidates: number[] = [0];
  for (let end = leastStretch; end <= n; end++) {
    const costs: number[] = [];
    for (const start of candidates) {
      const within = squaresWithin(sums, start, end);
      costs.push(best[start]! + within);
      const cost = best[start]! + within + penalty;
      if (cost < best[end]!) {
        best[end] = cost;
        previous[end] = start;
      }
    }
    // A start that is already dearer than the best end here can never win later.
    candidates = candidates.filter((_, i) => costs[i]! <= best[end]!);
    const next = end + 1 - leastStretch;
    if (next > 0 && next <= n && best[next]! < Infinity) candidates.push(next);
  }
  const changes: number[] = [];
  for (let end = n; end > 0 && previous[end]! > 0; end = previous[end]!) changes.unshift(previous[end]!);
  return changes;
}

export interface Pettitt {
  /** Number of values before the change. */
  readonly before: number;
  readonly statistic: number;
  /** Two-sided, by the usual approximation; at most 1. */
  readonly p: number;
}

/**
 * Pettitt's rank test for one change of level.
 *
 * Source: Pettitt 1979 [memory]; p ≈ 2·exp(−6K²/(n³+n²)). Check: checks/history-statistics (the Nile series)
 */
export function pettitt(values: ArrayLike<number>): Pettitt | null {
  const n = values.length;
  if (n < 2) return null;
  const ranks = midRanks(values);
  let sum = 0;
  let found = { before: 1, statistic: -1 };
  for (let t = 1; t < n; t++) {
    sum += ranks[t - 1]!;
    const statistic = Math.abs(2 * sum - t * (n + 1));
    if (statistic > found.statistic) found = { before: t, statistic };
  }
  const p = 2 * Math.exp((-6 * found.statistic ** 2) / (n ** 3 + n ** 2));
  return { ...found, p: Math.min(1, p) };
}
