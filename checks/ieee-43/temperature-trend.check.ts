import { type Celsius, insulationReferredTo, type Ohms } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import cases from "./cases.json" with { type: "json" };

describe("IEEE 43, halving every 10 K", () => {
  it.each(cases.cases)(
    "$megohms MΩ at $from °C is $expected MΩ at $to °C",
    ({ megohms, from, to, expected }) => {
      const referred = insulationReferredTo((megohms * 1e6) as Ohms, from as Celsius, to as Celsius);
      expect(referred / 1e6).toBeCloseTo(expected, 9);
    },
  );
});
