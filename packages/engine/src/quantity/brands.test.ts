import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { Ohms, VoltAmperes, Volts, Watts } from "./brands.ts";
import { DIMENSIONS, UNITS } from "./dimension.ts";
import { normalUnit } from "./unit-spelling.ts";

// Each expected error is checked by `tsc --noEmit`: were it to compile, the unused directive would fail the type check.
describe("branded numbers", () => {
  const volts = 12 as Volts;
  const ohms = (value: Ohms): number => value;

  test("do not let volts pass as ohms", () => {
    // @ts-expect-error volts are not ohms
    expect(ohms(volts)).toBe(12);
    // @ts-expect-error a plain number is not ohms: whoever knows the unit brands it
    expect(ohms(12)).toBe(12);
  });

  test("do not let watts pass as volt-amperes", () => {
    const power = 10 as Watts;
    // @ts-expect-error real power is not apparent power
    const apparent: VoltAmperes = power;
    expect(apparent).toBe(10);
  });

  test("become plain numbers again in arithmetic", () => {
    // @ts-expect-error a sum has lost its unit until somebody brands it
    const sum: Volts = volts + volts;
    expect(sum).toBe(24);
  });

  test("have a brand string of their own each", () => {
    const source = readFileSync(new URL("./brands.ts", import.meta.url), "utf8");
    const brands = [...source.matchAll(/Branded<"([^"]+)">/gu)].map((match) => match[1]);
    expect(brands.length).toBeGreaterThan(15);
    expect(new Set(brands).size).toBe(brands.length);
  });
});

describe("units", () => {
  test.each(DIMENSIONS)("of %s are spelt in their normal form, each once", (dimension) => {
    const symbols = UNITS[dimension].map((unit) => unit.symbol);
    expect(symbols.map(normalUnit)).toEqual(symbols);
    expect(new Set(symbols).size).toBe(symbols.length);
  });
});
