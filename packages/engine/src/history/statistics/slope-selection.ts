import { seededRandom } from "../../simulate/random.ts";
import { mergeOrder } from "./merge-order.ts";

/** Below this many pairs listing them all is quicker than selecting. */
const FEW_PAIRS = 20_000;
/** Slopes left in the window, as a multiple of the points, when they are listed. */
const LIST_AT = 4;

/** Slopes of all pairs of points with different x, in ascending order, by rank. */
export interface SlopeOrder {
  /** Number of pairs with different x. */
  readonly pairs: number;
  /** The slope of a rank, 0 for the least. */
  readonly at: (rank: number) => number;
}

/**
 * The slopes of all pairs of points without listing them.
 *
 * A point (x, y) becomes the line z = y − t·x. Sorted by z at some t, two points have changed places against t = −∞
 * exactly when the slope of their pair is at most t, so a merge sort counts the slopes up to t. Drawing some of the
 * slopes between two such t shows where to put the next pair of t, and a few rounds leave few enough to list.
 * Expected time O(n log n); the answer does not depend on what was drawn.
 *
 * Source: the randomised slope selection of Dillencourt, Mount and Netanyahu (1992) and Matoušek (1991) [memory].
 * Exact up to the rounding of slopes that differ by less than about 1e-15 of their size. Check: checks/history-statistics
 */
export function slopeOrder(x: Float64Array, y: Float64Array): SlopeOrder {
  const n = x.length;
  if ((n * (n - 1)) / 2 <= FEW_PAIRS) return listedSlopes(x, y);
  return new SlopeSelector(x, y);
}

function listedSlopes(x: Float64Array, y: Float64Array): SlopeOrder {
  const n = x.length;
  const slopes = new Float64Array((n * (n - 1)) / 2);
  let pairs = 0;
  for (let i = 0; i < n; i++)
    for (let j = i + 1; j < n; j++) if (x[i] !== x[j]) slopes[pairs++] = (y[j]! - y[i]!) / (x[j]! - x[i]!);
  const sorted = slopes.subarray(0, pairs).sort();
  return { pairs, at: (rank) => sorted[rank]! };
}

/** Slopes above `from` and up to `to`, as the two orders of the points; `rank` is looked for among them. */
interface Window {
  from: Uint32Array;
  to: Uint32Array;
  size: number;
  rank: number;
}

class SlopeSelector implements SlopeOrder {
  readonly pairs: number;
  /** Rank of a point by falling x, then rising y: places ties of z for "slope at most t". */
  readonly #tieAtMost: Uint32Array;
  /** Rank by rising x, then rising y: places ties for "slope below t". */
  readonly #tieBelow: Uint32Array;
  readonly #first: Uint32Array;
  readonly #last: Uint32Array;
  readonly #spare: Uint32Array;
  readonly #z: Float64Array;
  /** Slopes drawn from all pairs: every rank begins with them. */
  #firstDraw: Float64Array | null = null;
  /** The slopes listed last, and the rank of the first: neighbouring ranks are asked for together. */
  #listed: { readonly start: number; readonly slopes: Float64Array } | null = null;

  constructor(
    private readonly x: Float64Array,
    private readonly y: Float64Array,
  ) {
    const n = x.length;
    const byY = (a: number, b: number): number => y[a]! - y[b]! || a - b;
    this.#first = Uint32Array.from({ length: n }, (_, i) => i);
    this.#last = this.#first.toReversed();
    if (!x.every((value, i) => i === 0 || value > x[i - 1]!)) {
      this.#first.sort((a, b) => x[a]! - x[b]! || byY(a, b));
      this.#last.sort((a, b) => x[b]! - x[a]! || byY(a, b));
    }
    this.#tieBelow = ranksOf(this.#first);
    this.#tieAtMost = ranksOf(this.#last);
    this.#spare = new Uint32Array(n);
    this.#z = new Float64Array(n);
    this.pairs = mergeOrder(this.#first.slice(), asKey(this.#tieAtMost), this.#tieAtMost, this.#spare);
  }

  at(rank: number): number {
    const known = this.#listed?.slopes[rank - this.#listed.start];
    if (known !== undefined) return known;
    const window: Window = { from: this.#first, to: this.#last, size: this.pairs, rank };
    const random = seededRandom(1);
    for (;;) {
      if (window.size <= LIST_AT * this.x.length) {
        const slopes = this.#list(window);
        this.#listed = { start: rank - window.rank, slopes };
        return slopes[window.rank]!;
      }
      const drawn =
        window.size === this.pairs
          ? (this.#firstDraw ??= this.#draw(window, random.uniform))
          : this.#draw(window, random.uniform);
      const place = (window.rank / window.size) * drawn.length;
      const margin = 1.5 * Math.sqrt(drawn.length);
      const low = drawn[Math.max(0, Math.floor(place - margin))]!;
      const high = drawn[Math.min(drawn.length - 1, Math.ceil(place + margin))]!;
      const above = this.#cut(window, low, this.#tieBelow);
      if (!above) continue;
      const stillAbove = this.#cut(window, high, this.#tieAtMost);
      if (!stillAbove && low === high) return low;
    }
  }

  /** Cuts the window at t and keeps the side with the rank; true when that is the upper side. */
  #cut(window: Window, t: number, tie: Uint32Array): boolean {
    const { x, y } = this;
    const z = this.#z;
    for (let i = 0; i < z.length; i++) z[i] = y[i]! - t * x[i]!;
    const order = window.from.slice();
    const lower = mergeOrder(order, z, tie, this.#spare);
    if (window.rank < lower) {
      window.to = order;
      window.size = lower;
      return false;
    }
    window.from = order;
    window.size -= lower;
    window.rank -= lower;
    return true;
  }

  #slope(a: number, b: number): number {
    return (this.y[b]! - this.y[a]!) / (this.x[b]! - this.x[a]!);
  }

  /** As many slopes of the window as there are points, drawn alike, in ascending order. */
  #draw(window: Window, uniform: () => number): Float64Array {
    const wanted = Float64Array.from({ length: this.x.length }, () =>
      Math.floor(uniform() * window.size),
    ).sort();
    const drawn = new Float64Array(wanted.length);
    const ranks = ranksOf(window.to);
    let passed = 0;
    let next = 0;
    mergeOrder(window.from.slice(), asKey(ranks), ranks, this.#spare, (left, from, to, right) => {
      const count = to - from;
      while (next < wanted.length && wanted[next]! < passed + count) {
        drawn[next] = this.#slope(left[from + wanted[next]! - passed]!, right);
        next++;
      }
      passed += count;
    });
    return drawn.sort();
  }

  #list(window: Window): Float64Array {
    const slopes = new Float64Array(window.size);
    const ranks = ranksOf(window.to);
    let count = 0;
    mergeOrder(window.from.slice(), asKey(ranks), ranks, this.#spare, (left, from, to, right) => {
      for (let i = from; i < to; i++) slopes[count++] = this.#slope(left[i]!, right);
    });
    return slopes.sort();
  }
}

function ranksOf(order: Uint32Array): Uint32Array {
  const ranks = new Uint32Array(order.length);
  for (let i = 0; i < order.length; i++) ranks[order[i]!] = i;
  return ranks;
}

function asKey(ranks: Uint32Array): Float64Array {
  return Float64Array.from(ranks);
}
