import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../simulate/random.ts";
import { median } from "./quantile.ts";
import { slopeOrder } from "./slope-selection.ts";
import { theilSen } from "./theil-sen.ts";

/** All slopes by definition. */
function allSlopes(x: ArrayLike<number>, y: ArrayLike<number>): number[] {
  const slopes: number[] = [];
  for (let i = 0; i < x.length; i++)
    for (let j = i + 1; j < x.length; j++) if (x[i] !== x[j]) slopes.push((y[j]! - y[i]!) / (x[j]! - x[i]!));
  return slopes.sort((a, b) => a - b);
}

/** More points than are listed, with repeated days, quantised values and a value that half of them share. */
const points = fc.record({
  seed: fc.integer({ min: 1, max: 1e6 }),
  count: fc.integer({ min: 210, max: 260 }),
  steps: fc.constantFrom(3, 40, 1e9),
  days: fc.constantFrom(30, 260, 4000),
  atCeiling: fc.constantFrom(0, 0.6),
});

describe("slopes of all pairs by rank", () => {
  it("are those of the definition, whatever ties there are", () => {
    fc.assert(
      fc.property(
        points,
        fc.double({ min: 0, max: 1, noNaN: true }),
        ({ seed, count, steps, days, atCeiling }, share) => {
          const random = seededRandom(seed);
          const x = Float64Array.from({ length: count }, () => Math.floor(random.uniform() * days));
          const y = x.map(() =>
            random.uniform() < atCeiling ? 7 : Math.round(random.normal() * steps) / steps,
          );
          const expected = allSlopes(x, y);
          const order = slopeOrder(x, y);
          expect(order.pairs).toBe(expected.length);
          const rank = Math.min(expected.length - 1, Math.floor(share * expected.length));
          expect(Math.abs(order.at(rank) - expected[rank]!)).toBeLessThan(1e-12);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe("Theil–Sen", () => {
  it("of a straight line is that line, and its interval a point", () => {
    const x = Array.from({ length: 300 }, (_, i) => i);
    const line = theilSen(
      x,
      x.map((day) => 6 - 0.25 * day),
    )!;
    expect(line).toEqual({ slope: -0.25, intercept: 6, low: -0.25, high: -0.25 });
  });

  it("is not moved by a fifth of the points gone wild", () => {
    const x = Array.from({ length: 100 }, (_, i) => i);
    const y = x.map((day) => (day % 5 === 0 ? 1e6 : -2 * day));
    expect(theilSen(x, y)!.slope).toBeCloseTo(-2, 9);
  });

  it("has no answer for points on one day", () => {
    expect(theilSen([3, 3], [1, 2])).toBeNull();
    expect(theilSen([], [])).toBeNull();
  });

  it("refuses lists of different length", () => {
    expect(() => theilSen([1, 2], [1])).toThrow(RangeError);
  });
});

describe("the median", () => {
  it("of nothing is no number", () => {
    expect(median([])).toBeNaN();
  });
});
