import { runningSums, squaresWithin } from "./statistics/change-points.ts";
import { differenceSigma, quantileOfSorted, sortedCopy } from "./statistics/quantile.ts";

/** One value of the dry level. */
export interface LevelPoint {
  readonly day: number;
  /** log10 Ω. */
  readonly value: number;
}

/** One explanation of how a level moved. */
export interface Explanation {
  /** Level before, and at the end [log10 Ω]. */
  readonly before: number;
  readonly after: number;
  /** Index of the first point of each later stretch; for a slope that begins later, its beginning. */
  readonly changes: readonly number[];
  /** Drop of the information criterion against a flat level; positive speaks for the explanation. */
  readonly gain: number;
  /** Spread about it [decades]. */
  readonly sigma: number;
}

/**
 * How a level moved: flat, in one or two sudden steps, or along a straight slope, from the beginning or from a day on.
 */
export interface LevelShape {
  readonly kind: "flat" | "steps" | "slope";
  readonly steps: Explanation;
  /** With its slope [decades/day]. */
  readonly slope: Explanation & { readonly perDay: number };
  readonly flat: Pick<Explanation, "after" | "sigma">;
}

/** Price of a parameter in units of ln n: neighbouring weeks depend on each other, so twice the usual [design choice]. */
const PRICE = 2;
const LEAST_STRETCH = 3;

/** Which of flat, stepped and sloping describes a level best: least squares on clipped values, by the Bayes criterion. */
export function levelShape(points: readonly LevelPoint[]): LevelShape {
  const n = points.length;
  const values = clipped(points.map(({ value }) => value));
  const price = PRICE * Math.log(Math.max(2, n));
  const noise = Math.max(0.01, differenceSigma(values) || 0.01);
  const score = (squares: number, parameters: number): number =>
    n * Math.log(Math.max(squares / n, noise * noise * 0.5)) + parameters * price;
  const sums = runningSums(values);
  const flatSquares = squaresWithin(sums, 0, n);
  const flatScore = score(flatSquares, 1);
  const mean = (from: number, to: number): number =>
    values[0]! + (sums.sum[to]! - sums.sum[from]!) / (to - from);
  const flat = { after: mean(0, n), sigma: Math.sqrt(flatSquares / n) };
  const nothing = { ...flat, before: flat.after, changes: [], gain: 0 };
  if (n < 3 * LEAST_STRETCH) return { kind: "flat", flat, steps: nothing, slope: { ...nothing, perDay: 0 } };
  const found = bestSteps(sums, n, score);
  const edges = [0, ...found.changes, n];
  const levels = edges.slice(1).map((to, i) => mean(edges[i]!, to));
  const steps: Explanation = {
    ...largestDrop(levels),
    changes: found.changes,
    gain: flatScore - found.score,
    sigma: Math.sqrt(found.squares / n),
  };
  const line = bestSlope(points, values, score);
  const slope = {
    before: line.before,
    after: line.after,
    perDay: line.perDay,
    changes: line.begins === 0 ? [] : [line.begins],
    gain: flatScore - line.score,
    sigma: Math.sqrt(line.squares / n),
  };
  const kind = Math.max(steps.gain, slope.gain) <= 0 ? "flat" : steps.gain >= slope.gain ? "steps" : "slope";
  return { kind, flat, steps, slope };
}

/** The last level, and the one before the largest drop that has not been made good. */
function largestDrop(levels: readonly number[]): { readonly before: number; readonly after: number } {
  const after = levels.at(-1)!;
  let before = levels.at(-2)!;
  for (let i = 0; i + 1 < levels.length; i++)
    if (Math.max(...levels.slice(i + 1)) < levels[i]! - 0.2 && levels[i]! > before) before = levels[i]!;
  return { before, after };
}

/** Single wild weeks count no more than the edge of their neighbourhood. */
function clipped(values: readonly number[]): number[] {
  return values.map((value, i) => {
    const near = sortedCopy(values.slice(Math.max(0, i - 4), i + 5));
    const spread = Math.max(0.03, quantileOfSorted(near, 0.75) - quantileOfSorted(near, 0.25));
    const middle = quantileOfSorted(near, 0.5);
    return Math.min(middle + 2 * spread, Math.max(middle - 2 * spread, value));
  });
}

type Score = (squares: number, parameters: number) => number;
type Sums = ReturnType<typeof runningSums>;

interface Steps {
  readonly changes: readonly number[];
  readonly squares: number;
  readonly score: number;
}

function bestSteps(sums: Sums, n: number, score: Score): Steps {
  let best: Steps = { changes: [], squares: Infinity, score: Infinity };
  const consider = (changes: readonly number[], squares: number): void => {
    const found = score(squares, 1 + 2 * changes.length);
    if (found < best.score) best = { changes, squares, score: found };
  };
  for (let i = LEAST_STRETCH; i <= n - LEAST_STRETCH; i++) {
    const left = squaresWithin(sums, 0, i);
    consider([i], left + squaresWithin(sums, i, n));
    for (let j = i + LEAST_STRETCH; j <= n - LEAST_STRETCH; j++)
      consider([i, j], left + squaresWithin(sums, i, j) + squaresWithin(sums, j, n));
  }
  return best;
}

interface Slope {
  readonly begins: number;
  readonly before: number;
  readonly after: number;
  readonly perDay: number;
  readonly squares: number;
  readonly score: number;
}

/** The best line that is flat up to some point and slopes from there on; flat for no time at all is a plain line. */
function bestSlope(points: readonly LevelPoint[], values: readonly number[], score: Score): Slope {
  const n = values.length;
  let best: Slope = { begins: 0, before: 0, after: 0, perDay: 0, squares: Infinity, score: Infinity };
  const stride = Math.max(1, Math.floor(n / 60));
  for (let begins = 0; begins <= n - 2 * LEAST_STRETCH; begins += stride) {
    const from = points[begins]!.day;
    let [u, uu, v, uv, vv] = [0, 0, 0, 0, 0];
    for (let i = 0; i < n; i++) {
      const along = Math.max(0, points[i]!.day - from);
      const value = values[i]!;
      u += along;
      uu += along * along;
      v += value;
      uv += along * value;
      vv += value * value;
    }
    const spread = uu - (u * u) / n;
    if (!(spread > 0)) continue;
    const perDay = (uv - (u * v) / n) / spread;
    const before = (v - perDay * u) / n;
    const squares = Math.max(0, vv - (v * v) / n - perDay * perDay * spread);
    const found = score(squares, begins === 0 ? 2 : 3);
    if (found >= best.score) continue;
    const after = before + perDay * Math.max(0, points[n - 1]!.day - from);
    best = { begins, before, after, perDay, squares, score: found };
  }
  return best;
}
