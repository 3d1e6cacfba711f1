import {
  leakInsulation,
  RESIDUAL_CONTINUOUS_SECONDS,
  RESIDUAL_STEPS,
  residualLimit,
  type VoltAmperes,
  type Volts,
} from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import cases from "./cases.json" with { type: "json" };

describe("IEC 62109-2 cl. 4.8.2.1 and VDE 0126-1-1, insulation at the highest voltage", () => {
  it.each(cases.leak)("$volts V / 30 mA: $kiloohms kΩ", ({ volts, kiloohms, digits }) => {
    expect(leakInsulation(volts as Volts, "iec-62109-2").value / 1000).toBeCloseTo(kiloohms, digits);
  });

  it.each(cases.vde)("$volts V at 1 kΩ/V: $kiloohms kΩ", ({ volts, kiloohms }) => {
    expect(leakInsulation(volts as Volts, "vde-0126-1-1").value / 1000).toBeCloseTo(kiloohms, 9);
  });
});

describe("IEC 62109-2 cl. 4.8.3, residual current", () => {
  it.each([...cases.continuous, cases.justAbove30kva])(
    "$kva kVA: $milliamps mA continuous",
    ({ kva, milliamps }) => {
      expect(residualLimit((kva * 1000) as VoltAmperes)?.continuousMilliamps).toBeCloseTo(milliamps, 6);
    },
  );

  it("steps 30, 60 and 150 mA disconnect in 0.3, 0.15 and 0.04 s, the continuous limit in 0.3 s", () => {
    expect(RESIDUAL_STEPS.map(({ milliamps, seconds }) => ({ milliamps, seconds: seconds.value }))).toEqual(
      cases.steps,
    );
    expect(RESIDUAL_CONTINUOUS_SECONDS.value).toBe(0.3);
  });
});
