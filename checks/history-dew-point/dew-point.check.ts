import { dewPoint } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import cases from "./cases.json" with { type: "json" };

describe("dew point by Magnus against ASHRAE relations", () => {
  it.each(cases.cases)(
    "$celsius °C at $humidityPercent %: $dewPoint °C",
    ({ celsius, humidityPercent, dewPoint: expected }) => {
      expect(Math.abs(dewPoint(celsius, humidityPercent) - expected)).toBeLessThan(0.012);
    },
  );
});
