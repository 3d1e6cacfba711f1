import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expectedGain, placeEntropyBits } from "./gain.ts";
import type { Scenario } from "./scenarios.ts";

const scenario = (answer: number): Scenario => ({ answer, leaks: [], g: 1e-9, tilt: 0, weight: 1 });
const alike = (count: number): Float64Array => new Float64Array(count).fill(1 / count);
const reading = (values: readonly number[], sd: number) => ({
  values: Float64Array.from(values),
  variances: new Float64Array(values.length).fill(sd * sd),
});

describe("the uncertainty about the place", () => {
  it.each([
    ["eight places alike are three bits", [0, 1, 2, 3, 4, 5, 6, 7], 3],
    ["one place is none, however many resistances stand for it", [4, 4, 4, 4], 0],
    ["two places of two scenarios each are one bit", [0, 0, 1, 1], 1],
  ])("%s", (_, answers, bits) => {
    expect(placeEntropyBits(answers.map(scenario), alike(answers.length))).toBeCloseTo(bits, 12);
  });
});

describe("the information expected of a reading", () => {
  const eight = Array.from({ length: 8 }, (_, i) => scenario(i));

  it.each([
    ["a reading far finer than the differences tells all", [0, 1, 2, 3, 4, 5, 6, 7], 0.01, 3],
    ["a reading that is the same everywhere tells nothing", [5, 5, 5, 5, 5, 5, 5, 5], 0.01, 0],
    ["a reading lost in its own noise tells nothing", [0, 1, 2, 3, 4, 5, 6, 7], 1e6, 0],
    // Halving eight: one bit, as a yes-or-no question has.
    ["a reading that only divides them into halves tells one bit", [0, 0, 0, 0, 9, 9, 9, 9], 0.01, 1],
  ])("%s", (_, values, sd, bits) => {
    expect(expectedGain(eight, alike(8), [reading(values, sd)]).bits).toBeCloseTo(bits, 3);
  });

  it("adds over readings that divide in different ways, and not over a reading taken twice", () => {
    const halvesOf = (bit: number): number[] => eight.map((_, i) => ((i >> bit) & 1) * 100);
    const by = (...bits: number[]): number =>
      expectedGain(
        eight,
        alike(8),
        bits.map((bit) => reading(halvesOf(bit), 1)),
      ).bits;
    expect(by(0, 1)).toBeCloseTo(2, 3);
    expect(by(0, 1, 2)).toBeCloseTo(3, 3);
    expect(by(0, 0)).toBeCloseTo(1, 3);
  });

  it("lies between nothing and the whole uncertainty, and another reading lowers it by less than 0.01 bit", () => {
    const values = fc.array(fc.double({ min: -10, max: 10, noNaN: true }), { minLength: 8, maxLength: 8 });
    fc.assert(
      fc.property(values, values, fc.double({ min: 0.1, max: 20, noNaN: true }), (first, second, sd) => {
        const one = expectedGain(eight, alike(8), [reading(first, sd)]);
        const both = expectedGain(eight, alike(8), [reading(first, sd), reading(second, sd)]);
        expect(one.bits).toBeGreaterThanOrEqual(0);
        expect(both.bits).toBeLessThanOrEqual(3 + 1e-9);
        expect(both.bits).toBeGreaterThan(one.bits - 0.01);
        for (const weights of both.after)
          expect(weights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 9);
      }),
    );
  });
});
