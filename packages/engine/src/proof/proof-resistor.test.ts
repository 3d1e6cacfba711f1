import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { E24, preferredAtLeast } from "../limits/preferred-values.ts";
import type { Ohms, Ratio, Volts, Watts } from "../quantity/index.ts";
import { POWER_RATINGS, type ProofResistorInput, proofResistor, ratingFor } from "./proof-resistor.ts";

const input = (
  maxVoltage: number,
  threshold: number,
  more: Partial<ProofResistorInput> = {},
): ProofResistorInput => ({
  maxVoltage: maxVoltage as Volts,
  threshold: threshold as Ohms,
  ...more,
});

const anyInput = fc
  .record({
    volts: fc.double({ min: 1, max: 2000, noNaN: true }),
    threshold: fc.double({ min: 500, max: 1e6, noNaN: true }),
    tolerance: fc.double({ min: 0, max: 0.6, noNaN: true }),
    healthy: fc.oneof(fc.constant(Infinity), fc.double({ min: 1e6 + 1, max: 1e9, noNaN: true })),
  })
  .map(({ volts, threshold, tolerance, healthy }) =>
    input(volts, threshold, { tolerance: tolerance as Ratio, healthy: healthy as Ohms }),
  );

describe("the test resistor", () => {
  it("pulls every array under the threshold less tolerance, and the next E24 value up would not", () => {
    fc.assert(
      fc.property(anyInput, (given) => {
        const made = proofResistor(given)!;
        const target = given.threshold * (1 - given.tolerance!);
        const together = (ohms: number): number => 1 / (1 / ohms + 1 / given.healthy!);
        expect(together(made.ohms)).toBeLessThanOrEqual(target * (1 + 1e-9));
        expect(together(made.series.totalOhms)).toBeLessThanOrEqual(target * (1 + 1e-9));
        const next = preferredAtLeast((made.ohms * 1.001) as Ohms, E24);
        expect(together(next)).toBeGreaterThan(target * (1 - 1e-9));
      }),
    );
  });

  it("carries at most half its rating, and no element of the series more than 250 V or half of its own", () => {
    fc.assert(
      fc.property(anyInput, (given) => {
        const made = proofResistor(given)!;
        expect(made.watts).toBeGreaterThanOrEqual(2 * made.dissipatedWatts);
        expect(given.maxVoltage / made.elements).toBeLessThanOrEqual(250);
        const heatEach = given.maxVoltage ** 2 / made.series.totalOhms / made.elements;
        expect(made.series.wattsEach).toBeGreaterThanOrEqual(2 * heatEach * (1 - 1e-12));
      }),
    );
  });

  it("is chosen for infinite sound insulation when none is given: the hardest array to pull down", () => {
    const alone = proofResistor(input(600, 30_000))!;
    const beside = proofResistor(input(600, 30_000, { healthy: 1e6 as Ohms }))!;
    expect(alone.atMostOhms).toBeCloseTo(24_000, 6);
    expect(alone.atMostOhms).toBeLessThan(beside.atMostOhms);
  });

  it("does not exist where the array is already below the threshold less tolerance", () => {
    expect(proofResistor(input(600, 30_000, { healthy: 24_000 as Ohms }))).toBeNull();
    expect(proofResistor(input(600, 30_000, { healthy: 24_001 as Ohms }))).not.toBeNull();
  });

  it.each([
    [250, 1],
    [250.1, 2],
    [500, 2],
    [745.4, 3],
  ])("%d V asks for %d elements", (volts, elements) => {
    expect(proofResistor(input(volts, 30_000))!.elements).toBe(elements);
  });

  it("is refused, before anything else is said, when its current passes the residual-current limit", () => {
    const made = proofResistor(input(1000, 1000, { residualLimitMilliamps: 300 }))!;
    expect(made.permitted).toBe(false);
    expect(made.warnings[0]).toMatch(/^Do not connect it: .* exceeds the residual-current limit of 300 mA/);
  });

  it("says so when the residual-current limit is not known", () => {
    expect(proofResistor(input(600, 30_000))!.warnings[0]).toContain("is not known");
  });

  it.each([
    ["below the 30 mA step", 500, false],
    ["at or above the 30 mA step", 800, true],
  ])("%s: connected before the inverter starts is said only where it matters", (_, volts, said) => {
    const { warnings } = proofResistor(input(volts, 30_000, { residualLimitMilliamps: 300 }))!;
    expect(warnings[0]!.includes("before the inverter starts")).toBe(said);
  });

  it("names licence, shock, enclosure, DC-rated switch and time limit", () => {
    const text = proofResistor(input(600, 30_000))!.warnings.join(" ");
    for (const word of [
      "Licensed",
      "local code",
      "shock level",
      "enclosed",
      "switch rated for 600 V direct",
      "time limit",
    ])
      expect(text).toContain(word);
  });

  it.each([
    [0, 30_000, {}],
    [Number.NaN, 30_000, {}],
    [600, -1, {}],
    [600, 30_000, { tolerance: 1 as Ratio }],
  ])("refuses %d V, %d Ω with its code", (volts, threshold, more) => {
    expect(() => proofResistor(input(volts, threshold, more))).toThrow("PROOF_INPUT_OUT_OF_RANGE");
  });
});

describe("power rating", () => {
  it("is the smallest common one that carries twice the heat, whole kilowatts beyond the list", () => {
    expect(ratingFor(2.5 as Watts)).toBe(5);
    expect(ratingFor(2.6 as Watts)).toBe(10);
    expect(ratingFor(500 as Watts)).toBe(1000);
    expect(ratingFor(501 as Watts)).toBe(2000);
    expect([...POWER_RATINGS.value].sort((a, b) => a - b)).toEqual([...POWER_RATINGS.value]);
  });
});
