import { type Celsius, temperatureFactor } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import cases from "./cases.json" with { type: "json" };

describe("NEC table 690.7(A), voltage factors", () => {
  it.each(cases.rows)("$warmestC to $coldestC °C: $factor at both ends", ({ warmestC, coldestC, factor }) => {
    expect(temperatureFactor(warmestC as Celsius)?.value).toBe(factor);
    expect(temperatureFactor(coldestC as Celsius)?.value).toBe(factor);
  });

  it.each(cases.between)("$celsius °C lies between rows: the colder row, $factor", ({ celsius, factor }) => {
    expect(temperatureFactor(celsius as Celsius)?.value).toBe(factor);
  });

  it.each(cases.outside)("$celsius °C is outside the table: $factor", ({ celsius, factor }) => {
    expect(temperatureFactor(celsius as Celsius)?.value ?? null).toBe(factor);
  });

  it("tags every row as from memory until somebody confirms it", () => {
    expect(temperatureFactor(-10 as Celsius)?.tag).toBe("memory");
  });
});
