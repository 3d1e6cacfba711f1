import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  DIMENSIONS,
  formatQuantity,
  formatTemperatureCoefficient,
  holdUnits,
  parseQuantity,
  parseTemperatureCoefficient,
  type Dimension,
  type QuantityOf,
  type TemperatureCoefficient,
} from "./index.ts";

// Expected texts are decimal arithmetic by hand.
const PRINTED: readonly (readonly [
  value: number,
  dimension: Dimension,
  significant: number,
  text: string,
])[] = [
  [10_300, "resistance", 3, "10.3 kΩ"],
  [10_000, "resistance", 4, "10 kΩ"],
  [999.96, "resistance", 4, "1 kΩ"],
  [999.96, "resistance", 5, "999.96 Ω"],
  [0.00047, "resistance", 2, "470 µΩ"],
  [40e6, "area-specific resistance", 3, "40 MΩ·m²"],
  [1500, "voltage", 4, "1500 V"],
  [0.3, "current", 3, "300 mA"],
  [-0.0027, "relative temperature coefficient", 3, "-0.27 %/K"],
  [-0.134, "absolute temperature coefficient", 3, "-134 mV/K"],
  [0.003, "ratio", 3, "0.3 %"],
  [0.98, "ratio", 3, "98 %"],
  [14, "duration", 3, "14 min"],
  [0.5, "duration", 3, "30 s"],
  [60, "duration", 3, "1 h"],
  [90, "duration", 3, "90 min"],
  [540, "duration", 3, "9 h"],
  [1440, "duration", 3, "24 h"],
  [2880, "duration", 3, "2 d"],
  [1.5, "cross-section", 3, "1.5 mm²"],
  [-3, "temperature", 3, "-3 °C"],
  [0, "capacitance", 3, "0 F"],
  [-0, "voltage", 3, "0 V"],
];

const finite = fc
  .tuple(
    fc.double({ min: 1, max: 10, maxExcluded: true, noNaN: true }),
    fc.integer({ min: -9, max: 12 }),
    fc.boolean(),
  )
  .map(([mantissa, exponent, negative]) => (negative ? -mantissa : mantissa) * 10 ** exponent);

describe("formatQuantity", () => {
  test.each(PRINTED)("prints %d as %s to %i digits: %s", (value, dimension, significant, text) => {
    expect(formatQuantity(value as QuantityOf[Dimension] as never, dimension, { significant })).toBe(text);
  });

  test.each(DIMENSIONS)("of %s is read back to the printed digits", (dimension) => {
    fc.assert(
      fc.property(finite, fc.integer({ min: 1, max: 15 }), (value, significant) => {
        const text = formatQuantity(value as never, dimension, { significant });
        const back = parseQuantity(text, dimension);
        if (!back.ok) throw new Error(`${text}: ${back.problem.message}`);
        // Two roundings to `significant` digits: one before the unit is chosen, one in that unit.
        const relative = Math.abs((back.value as number) - value) / Math.abs(value);
        expect(relative).toBeLessThanOrEqual(10 ** (1 - significant) + 1e-14);
      }),
    );
  });

  test.each(DIMENSIONS)("of %s stays on one line of a text", (dimension) => {
    fc.assert(
      fc.property(finite, fc.constantFrom("", ".", ",", ")", ";"), (value, sign) => {
        const text = formatQuantity(value as never, dimension);
        expect(holdUnits(`over ${text}${sign} 3 of them`)).toBe(
          `over ${text.replace(" ", "\u00a0")}${sign} 3 of them`,
        );
      }),
    );
  });

  test("refuses to print what is not finite", () => {
    expect(() => formatQuantity(Number.NaN as QuantityOf["voltage"], "voltage")).toThrow(RangeError);
    expect(() => formatQuantity(Infinity as QuantityOf["voltage"], "voltage")).toThrow(RangeError);
  });

  test("prints temperature coefficients so that they read back as the same kind", () => {
    const coefficients = [
      { kind: "relative", perKelvin: -0.0027 },
      { kind: "absolute", voltsPerKelvin: -0.134 },
    ] as unknown as readonly TemperatureCoefficient[];
    for (const value of coefficients)
      expect(parseTemperatureCoefficient(formatTemperatureCoefficient(value))).toEqual({ ok: true, value });
  });
});
