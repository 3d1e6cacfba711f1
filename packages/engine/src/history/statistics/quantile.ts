/**
 * Quantile of ascending values, linear between order statistics: Hyndman and Fan's seventh definition, the default of
 * numpy and R.
 *
 * @param share  0 to 1
 * @returns NaN without values
 * Check: checks/history-statistics
 */
export function quantileOfSorted(sorted: ArrayLike<number>, share: number): number {
  if (sorted.length === 0) return Number.NaN;
  const place = (sorted.length - 1) * share;
  const below = Math.floor(place);
  const low = sorted[below]!;
  const high = sorted[Math.min(below + 1, sorted.length - 1)]!;
  return low === high ? low : low + (place - below) * (high - low);
}

/** Ascending copy of finite numbers. */
export function sortedCopy(values: ArrayLike<number>): Float64Array {
  return Float64Array.from(values).sort();
}

export function quantile(values: ArrayLike<number>, share: number): number {
  return quantileOfSorted(sortedCopy(values), share);
}

export function median(values: ArrayLike<number>): number {
  return quantile(values, 0.5);
}

/** 1 / Φ⁻¹(3/4): makes the median absolute deviation estimate a normal's standard deviation. */
const MAD_TO_SIGMA = 1.482602218505602;

/** Robust spread: median absolute deviation from the median, scaled to a normal's standard deviation. */
export function robustSigma(values: ArrayLike<number>): number {
  const middle = median(values);
  return MAD_TO_SIGMA * median(Array.from(values, (value) => Math.abs(value - middle)));
}

/**
 * Spread of what changes from one value to the next: insensitive to trends and steps.
 *
 * For independent values the difference of two has √2 times the spread of one.
 */
export function differenceSigma(values: ArrayLike<number>): number {
  if (values.length < 3) return Number.NaN;
  const changes = new Float64Array(values.length - 1);
  for (let i = 1; i < values.length; i++) changes[i - 1] = Math.abs(values[i]! - values[i - 1]!);
  return (MAD_TO_SIGMA * median(changes)) / Math.SQRT2;
}
