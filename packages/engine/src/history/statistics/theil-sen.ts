import { normalQuantile } from "./normal.ts";
import { median } from "./quantile.ts";
import { slopeOrder } from "./slope-selection.ts";
import { tieSizes } from "./ties.ts";

export interface TheilSen {
  /** Median of the slopes of all pairs with different x. */
  readonly slope: number;
  /** Median of y minus slope times median of x. */
  readonly intercept: number;
  readonly low: number;
  readonly high: number;
}

export interface TheilSenOptions {
  /** Confidence of the interval; 0.95 when left out. */
  readonly confidence?: number;
  /** Factor on the variance of Kendall's S for values that depend on their neighbours; 1 when left out. */
  readonly varianceFactor?: number;
}

/**
 * Slope of a straight line that a third of the points cannot spoil, with Sen's interval.
 *
 * Exact: the median over all pairs, in O(n log n). The interval takes the order statistics at half the pairs ± z standard
 * deviations of Kendall's S, ties in x and y counted; ranks are rounded half to even.
 * The intercept is median(y) − slope · median(x); the median of y − slope·x is another convention.
 *
 * @returns null when fewer than two points differ in x
 * Source: Theil 1950, Sen 1968 [memory]. Check: checks/history-statistics (scipy.stats.theilslopes and a published series)
 */
export function theilSen(
  xs: ArrayLike<number>,
  ys: ArrayLike<number>,
  options: TheilSenOptions = {},
): TheilSen | null {
  const [x, y] = [Float64Array.from(xs), Float64Array.from(ys)];
  if (x.length !== y.length) throw new RangeError(`${x.length} x and ${y.length} y are no points.`);
  const slopes = slopeOrder(x, y);
  const { pairs } = slopes;
  if (pairs === 0) return null;
  const slope =
    pairs % 2 === 1 ? slopes.at((pairs - 1) / 2) : (slopes.at(pairs / 2 - 1) + slopes.at(pairs / 2)) / 2;
  const z = normalQuantile(0.5 + (options.confidence ?? 0.95) / 2);
  const spread = z * Math.sqrt(scoreVariance(x, y) * (options.varianceFactor ?? 1));
  const low = Math.max(0, halfToEven((pairs - spread) / 2) - 1);
  const high = Math.min(pairs - 1, halfToEven((pairs + spread) / 2));
  // Adding zero turns −0 into 0.
  return {
    slope: slope + 0,
    intercept: median(y) - slope * median(x) + 0,
    low: slopes.at(low) + 0,
    high: slopes.at(high) + 0,
  };
}

/** Variance of Kendall's S with ties in both; the product terms of double ties are left out, as Sen does. */
function scoreVariance(x: Float64Array, y: Float64Array): number {
  const n = x.length;
  const term = (k: number): number => k * (k - 1) * (2 * k + 5);
  const tied = [...tieSizes(x), ...tieSizes(y)].reduce((sum, size) => sum + term(size), 0);
  return Math.max(0, (term(n) - tied) / 18);
}

function halfToEven(value: number): number {
  const whole = Math.floor(value);
  if (value - whole !== 0.5) return Math.round(value);
  return whole % 2 === 0 ? whole : whole + 1;
}
