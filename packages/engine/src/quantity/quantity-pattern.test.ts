import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { DIMENSIONS, parseQuantity, quantityPattern } from "./index.ts";

const units = fc.constantFrom(
  ..."V mV kV A µA uA Ω ohm kohms MΩ \u2126 W kW VA kVA m mm km m2 m² mm^2 °C degC \u2103 %/K %/°C 1/K mV/K s min h d % ‰ dB dB(A) dBA Ah mAh MΩ·m² Mohm.m2 GΩm2 nF cd lx Hz kw KV foo C".split(
    " ",
  ),
  "",
  "dB (A)",
  "MΩ m²",
);
const numbers = fc.constantFrom(
  "1",
  "-1.5",
  "−2",
  "+.5",
  "3.",
  "2.2e3",
  "1e-3",
  "1,5",
  "1 000",
  "NaN",
  "0x10",
  "",
  "1.2.3",
);
const written = fc
  .tuple(numbers, fc.constantFrom("", " ", "\u00A0", "\u202F"), units)
  .map((parts) => parts.join(""));

describe("quantityPattern", () => {
  test.each(DIMENSIONS)("of %s matches exactly what the parser reads", (dimension) => {
    const pattern = new RegExp(quantityPattern(dimension), "u");
    const withBare = new RegExp(quantityPattern(dimension, { bareNumber: "base unit" }), "u");
    fc.assert(
      fc.property(written, (text) => {
        expect(pattern.test(text), text).toBe(parseQuantity(text, dimension).ok);
        expect(withBare.test(text), text).toBe(
          parseQuantity(text, dimension, { bareNumber: "base unit" }).ok,
        );
      }),
      { numRuns: 500 },
    );
  });
});
