import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { intervalOf } from "./quantiles.ts";

const even = (count: number, from: number, to: number) =>
  Array.from({ length: count }, (_, i) => ({
    ln: from + ((i + 0.5) / count) * (to - from),
    lnMass: 0,
  }));

describe("the median and the 90 % interval of weighted logarithms", () => {
  it("of an even spread lie at its half, twentieth and nineteen twentieths", () => {
    const { middle, low, high } = intervalOf(even(1000, 0, 10))!;
    expect(Math.log(middle)).toBeCloseTo(5, 2);
    expect(Math.log(low)).toBeCloseTo(0.5, 2);
    expect(Math.log(high)).toBeCloseTo(9.5, 2);
  });

  it("of a standard normal lie at ±1.645 [published: any table of the normal distribution]", () => {
    const sample = Array.from({ length: 2001 }, (_, i) => {
      const ln = -6 + (12 * i) / 2000;
      return { ln, lnMass: -(ln * ln) / 2 };
    });
    const { middle, low, high } = intervalOf(sample)!;
    expect(Math.log(middle)).toBeCloseTo(0, 3);
    expect(Math.log(low)).toBeCloseTo(-1.645, 2);
    expect(Math.log(high)).toBeCloseTo(1.645, 2);
  });

  it.each([
    ["nothing is null", [], null],
    ["one value is that value", [{ ln: Math.log(7), lnMass: -400 }], { middle: 7, low: 7, high: 7 }],
  ])("of %s", (_, sample, expected) => {
    const interval = intervalOf(sample);
    if (expected === null) expect(interval).toBeNull();
    else
      for (const key of ["middle", "low", "high"] as const)
        expect(interval![key]).toBeCloseTo(expected[key], 9);
  });

  it("are in order, within the sample, and the same whatever its order and common offset", () => {
    const values = fc.array(
      fc.record({
        ln: fc.double({ min: -20, max: 20, noNaN: true }),
        lnMass: fc.double({ min: -50, max: 0, noNaN: true }),
      }),
      { minLength: 1, maxLength: 40 },
    );
    fc.assert(
      fc.property(values, (sample) => {
        const { middle, low, high } = intervalOf(sample)!;
        const lns = sample.map(({ ln }) => ln);
        expect(low).toBeLessThanOrEqual(middle * (1 + 1e-12));
        expect(middle).toBeLessThanOrEqual(high * (1 + 1e-12));
        expect(Math.log(low)).toBeGreaterThanOrEqual(Math.min(...lns) - 1e-9);
        expect(Math.log(high)).toBeLessThanOrEqual(Math.max(...lns) + 1e-9);
        const moved = intervalOf(sample.map(({ ln, lnMass }) => ({ ln, lnMass: lnMass - 3000 })))!;
        expect(Math.log(moved.middle)).toBeCloseTo(Math.log(middle), 6);
      }),
    );
  });
});
