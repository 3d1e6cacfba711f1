import { E12, E24, type Ohms, preferredAtLeast, preferredAtMost } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import cases from "./cases.json" with { type: "json" };

describe("IEC 60063 preferred values", () => {
  it("E12 is as listed, and E24 adds the listed twelve", () => {
    expect([...E12]).toEqual(cases.e12);
    expect([...E24]).toEqual([...cases.e12, ...cases.e24Adds].sort((a, b) => a - b));
  });

  it("E24 follows 10^(k/24) rounded to one decimal, but for the eight historic exceptions within 5 %", () => {
    E24.forEach((value, k) => {
      const ideal = 10 ** (k / 24);
      if (cases.exceptions.includes(value)) expect(Math.abs(value / ideal - 1)).toBeLessThan(0.05);
      else expect(value).toBe(Number(ideal.toFixed(1)));
    });
  });

  it.each(cases.atMost)("$ohms Ω rounded down: $value Ω", ({ ohms, value }) => {
    expect(preferredAtMost(ohms as Ohms)).toBe(value);
  });

  it.each(cases.atLeast)("$ohms Ω rounded up: $value Ω", ({ ohms, value }) => {
    expect(preferredAtLeast(ohms as Ohms)).toBe(value);
  });
});
