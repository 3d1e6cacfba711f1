import { heat, type Ohms, proofResistor, type Ratio, type Volts } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import cases from "./cases.json" with { type: "json" };

describe("test resistor by Kirchhoff and Ohm", () => {
  it("600 V, 30 kΩ, 20 %, 1 MΩ beside it: at most 24.59 kΩ, so 24 kΩ, 25 mA, 15 W", () => {
    const { volts, thresholdKiloohms, tolerance, healthyMegohms, ...expected } = cases.worked;
    const made = proofResistor({
      maxVoltage: volts as Volts,
      threshold: (thresholdKiloohms * 1000) as Ohms,
      tolerance: tolerance as Ratio,
      healthy: (healthyMegohms * 1e6) as Ohms,
    });
    expect(made!.atMostOhms / 1000).toBeCloseTo(expected.atMostKiloohms, 2);
    expect(made!.ohms).toBe(expected.kiloohms * 1000);
    expect(made!.milliamps).toBeCloseTo(expected.milliamps, 9);
    expect(made!.dissipatedWatts).toBeCloseTo(expected.watts, 9);
  });

  it.each(cases.heat)(
    "$kiloohms kΩ across $volts V: $watts W, $milliamps mA",
    ({ kiloohms, volts, watts, milliamps }) => {
      expect(heat(volts as Volts, (kiloohms * 1000) as Ohms)).toBeCloseTo(watts, 1);
      // A threshold of 37.5 kΩ less 20 % is exactly the 30 kΩ of the printed case.
      const made = proofResistor({
        maxVoltage: volts as Volts,
        threshold: ((kiloohms * 1000) / 0.8) as Ohms,
      });
      expect(made!.ohms).toBe(kiloohms * 1000);
      expect(made!.dissipatedWatts).toBeCloseTo(watts, 1);
      expect(made!.milliamps).toBeCloseTo(milliamps, 1);
    },
  );
});
