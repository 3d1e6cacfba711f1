import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { SquareMetres } from "../quantity/index.ts";
import type { CoverageArray, DetectorSet } from "./coverage-array.ts";
import { coverageMap, seenAtOnceShare } from "./coverage-map.ts";
import { healthyMargin } from "./healthy-margin.ts";
import { maxPowerPoint, moduleCurve } from "./module-curve.ts";

const floating: CoverageArray = {
  modulesPerString: 20,
  strings: 1,
  moduleOpenV: 40,
  moduleRunningV: 40,
  earthing: { kind: "floating" },
};
const module = moduleCurve({ openCircuitV: 36, shortCircuitA: 5, maxPowerW: 130 });
const point = maxPowerPoint(module, 36);
const earthed: CoverageArray = {
  ...floating,
  modulesPerString: 6,
  strings: 3,
  earthing: {
    kind: "functional",
    pole: "-",
    ohms: 0.5,
    module,
    leadOhms: 0.1,
    loadOhms: (6 * point.volts) / (3 * point.amperes),
  },
};
const start: DetectorSet = { insulation: { thresholdOhms: 30_000, at: ["start"] } };
const few = { faultOhms: [1, 100, 10_000, 100_000] };

describe("coverage map", () => {
  it("sees any place by the insulation check, under its threshold only, at the next start", () => {
    const { cells, shares, blindPositions } = coverageMap(floating, start, few);
    for (const row of cells.running)
      expect(row.map(({ soon }) => soon)).toEqual(["next-start", "next-start", "next-start", "never"]);
    expect(shares.running["at-once"]).toBe(0);
    expect(blindPositions).toEqual([]);
  });

  it("sees by residual current nothing at the place that is held at earth", () => {
    const { cells, blindPositions } = coverageMap(floating, { residual: { tripA: 0.03 } }, few);
    expect(blindPositions).toEqual([10]);
    expect(cells.running[0]!.map(({ soon }) => soon)).toEqual(["at-once", "at-once", "at-once", "never"]);
    expect(cells.night[0]![0]).toEqual({ soon: "next-start", by: ["residual"] });
  });

  it("leaves the earthed end to chance with an interrupter alone", () => {
    const { blindPositions, cells } = coverageMap(earthed, { interrupter: { ratedA: 1 } }, few);
    expect(blindPositions).toEqual([0]);
    expect(cells.running[6]![0]!.by).toEqual(["interrupter"]);
  });

  it("has the blind spot at the other end when the positive pole is earthed", () => {
    if (earthed.earthing.kind === "floating") throw new Error("the fixture is earthed");
    const other = { ...earthed, earthing: { ...earthed.earthing, pole: "+" as const } };
    expect(coverageMap(other, { interrupter: { ratedA: 1 } }, few).blindPositions).toEqual([6]);
  });

  it("gives an insulation check nothing to measure on a solidly earthed array", () => {
    if (earthed.earthing.kind === "floating") throw new Error("the fixture is earthed");
    const solid = { ...earthed, earthing: { ...earthed.earthing, kind: "solid" as const } };
    expect(coverageMap(solid, start, few).shares.night.never).toBe(1);
    expect(coverageMap(earthed, start, few).shares.night.never).toBe(0.25);
  });

  it("is blind at mid-string by asymmetry", () => {
    const detectors = { asymmetry: { tripShare: 0.15, inputOhms: 1e6 } };
    expect(coverageMap(floating, detectors, few).blindPositions).toEqual([9, 10, 11]);
  });

  it("counts a wet healthy array against the insulation check's reach, which then alarms without a fault", () => {
    const wet = { ...floating, healthyOhms: 20_000 };
    expect(coverageMap(wet, start, few).shares.night.never).toBe(0);
  });

  it("never loses a cell by adding a detector, and shares add up", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 1, noNaN: true }),
        fc.integer({ min: 500, max: 50_000 }),
        (tripA, ohms) => {
          const one = coverageMap(floating, { residual: { tripA } });
          const two = coverageMap(floating, {
            residual: { tripA },
            insulation: { thresholdOhms: ohms, at: ["start", "continuous"] },
          });
          expect(two.shares.running.never).toBeLessThanOrEqual(one.shares.running.never);
          expect(seenAtOnceShare(two)).toBeGreaterThanOrEqual(seenAtOnceShare(one));
          for (const { night, running } of [one.shares, two.shares]) {
            for (const share of [night, running])
              expect(share["at-once"] + share["next-start"] + share.never).toBeCloseTo(1, 12);
          }
        },
      ),
    );
  });
});

describe("module curve", () => {
  it("meets the stated open-circuit voltage, power and short-circuit current", () => {
    expect(point.volts * point.amperes).toBeCloseTo(130, 3);
    expect(maxPowerPoint(module, 36).volts).toBeLessThan(36);
    expect(module.lightA).toBeCloseTo(5, 0);
  });
});

describe("healthy margin", () => {
  it.each([
    [400 * 2, 50_000, 1, "possible-when-wet"],
    [600 * 2, 1000 / 0.03, 1, "possible-when-wet"],
    [1300, 1000 / 0.03, 0.923, "expected-when-wet"],
    [54.6, 30_000, 24.42, "unlikely"],
  ])("of %i m² against %i Ω is %f: a false alarm is %s", (area, thresholdOhms, margin, falseAlarm) => {
    const found = healthyMargin({ area: area as SquareMetres, thresholdOhms });
    expect(found.marginToThreshold).toBeCloseTo(margin, 2);
    expect(found.falseAlarm).toBe(falseAlarm);
  });

  it("gives the standing leak of an earthed array by half its voltage", () => {
    const input = {
      area: 2000 as SquareMetres,
      thresholdOhms: 1000,
      interrupter: { arrayV: 1000, ratedA: 1 },
    };
    expect(healthyMargin(input).standingLeak!.amperes).toBeCloseTo(0.025, 12);
  });
});
