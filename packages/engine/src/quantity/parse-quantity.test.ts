import { describe, expect, test } from "vitest";
import { parseQuantity, parseTemperatureCoefficient, type Dimension, type QuantityCode } from "./index.ts";

// Expected numbers are the definitions of the SI prefixes and of minute, hour and day (SI Brochure, 9th ed., tables 7 and 8).
const READ: readonly (readonly [text: string, dimension: Dimension, value: number])[] = [
  ["30 kΩ", "resistance", 30_000],
  ["30 kohm", "resistance", 30_000],
  ["30 kohms", "resistance", 30_000],
  ["30 k\u2126", "resistance", 30_000],
  ["30kΩ", "resistance", 30_000],
  ["2.2e3 ohm", "resistance", 2200],
  ["1 mΩ", "resistance", 0.001],
  ["1 MΩ", "resistance", 1_000_000],
  ["741.3 V", "voltage", 741.3],
  ["+741.3 V", "voltage", 741.3],
  ["-741.3 V", "voltage", -741.3],
  [".5 V", "voltage", 0.5],
  ["5. V", "voltage", 5],
  ["1.5 kV", "voltage", 1500],
  ["300 mA", "current", 0.3],
  ["300 \u00B5A", "current", 0.0003],
  ["300 \u03BCA", "current", 0.0003],
  ["300 uA", "current", 0.0003],
  ["410 W", "real power", 410],
  ["10 kVA", "apparent power", 10_000],
  ["60 m", "length", 60],
  ["25 cm", "length", 0.25],
  ["1.95 m2", "area", 1.95],
  ["1.95 m²", "area", 1.95],
  ["1.95 m^2", "area", 1.95],
  ["1.5 mm2", "cross-section", 1.5],
  ["1.5 mm²", "cross-section", 1.5],
  ["-3 °C", "temperature", -3],
  ["\u22123 °C", "temperature", -3],
  ["-3 \u2103", "temperature", -3],
  ["-3 degC", "temperature", -3],
  ["-0.27 %/K", "relative temperature coefficient", -0.0027],
  ["\u22120.27 %/K", "relative temperature coefficient", -0.0027],
  ["-0.27 %/°C", "relative temperature coefficient", -0.0027],
  ["-0.0027 1/K", "relative temperature coefficient", -0.0027],
  ["-134 mV/K", "absolute temperature coefficient", -0.134],
  ["-0.134 V/K", "absolute temperature coefficient", -0.134],
  ["30 s", "duration", 0.5],
  ["60 min", "duration", 60],
  ["9 h", "duration", 540],
  ["2 d", "duration", 2880],
  ["0.3 %", "ratio", 0.003],
  ["3 ‰", "ratio", 0.003],
  ["0.98", "ratio", 0.98],
  ["100 dB", "sound level", 100],
  ["100 dB(A)", "sound level", 100],
  ["100 dBA", "sound level", 100],
  ["7 Ah", "charge", 7],
  ["7200 mAh", "charge", 7.2],
  ["40 MΩ·m²", "area-specific resistance", 40_000_000],
  ["40 Mohm.m2", "area-specific resistance", 40_000_000],
  ["40 MΩm²", "area-specific resistance", 40_000_000],
  ["27 nF", "capacitance", 27e-9],
  ["70 cd", "luminous intensity", 70],
  ["2.5 kcd/m2", "luminance", 2500],
  ["200 lx", "illuminance", 200],
  ["2.5 kHz", "frequency", 2500],
  ["30\u00A0kΩ", "resistance", 30_000],
  ["30\u2009kΩ", "resistance", 30_000],
  ["30\u202FkΩ", "resistance", 30_000],
  ["  30 kΩ  ", "resistance", 30_000],
];

const REFUSED: readonly (readonly [text: string, dimension: Dimension, code: QuantityCode, says: string])[] =
  [
    ["", "voltage", "QUANTITY_TEXT_EMPTY", "Nothing"],
    ["   ", "voltage", "QUANTITY_TEXT_EMPTY", "Nothing"],
    ["V", "voltage", "QUANTITY_NOT_A_NUMBER", "decimal number"],
    ["NaN V", "voltage", "QUANTITY_NOT_A_NUMBER", "decimal number"],
    ["Infinity V", "voltage", "QUANTITY_NOT_A_NUMBER", "decimal number"],
    ["0x1F V", "voltage", "QUANTITY_NOT_A_NUMBER", "decimal number"],
    ["1_000 V", "voltage", "QUANTITY_NOT_A_NUMBER", "without grouping"],
    ["1 000 V", "voltage", "QUANTITY_NOT_A_NUMBER", "without grouping"],
    ["1.2.3 V", "voltage", "QUANTITY_NOT_A_NUMBER", "decimal number"],
    ["--5 V", "voltage", "QUANTITY_NOT_A_NUMBER", "decimal number"],
    [`${"9".repeat(200)} V`, "voltage", "QUANTITY_NOT_A_NUMBER", "…"],
    ["741,3 V", "voltage", "QUANTITY_DECIMAL_COMMA", "decimal point"],
    ["1,000 V", "voltage", "QUANTITY_DECIMAL_COMMA", "decimal point"],
    [",5 V", "voltage", "QUANTITY_NOT_A_NUMBER", "decimal number"],
    ["1e999 V", "voltage", "QUANTITY_NUMBER_TOO_LARGE", "too large"],
    ["1e308 kΩ", "resistance", "QUANTITY_NUMBER_TOO_LARGE", "too large"],
    ["741.3", "voltage", "QUANTITY_UNIT_MISSING", '"741.3 V"'],
    ["-0.27", "relative temperature coefficient", "QUANTITY_UNIT_MISSING", '"-0.27 %/K"'],
    ["30 V", "resistance", "QUANTITY_UNIT_WRONG", "unit of voltage"],
    ["10 kW", "apparent power", "QUANTITY_UNIT_WRONG", "unit of real power"],
    ["10 kVA", "real power", "QUANTITY_UNIT_WRONG", "unit of apparent power"],
    ["30 kw", "real power", "QUANTITY_UNIT_WRONG", "write kW for"],
    ["30 Kohm", "resistance", "QUANTITY_UNIT_WRONG", "write kΩ for"],
    ["30 MOHM", "resistance", "QUANTITY_UNIT_WRONG", "write mΩ or MΩ for"],
    ["-3 °c", "temperature", "QUANTITY_UNIT_WRONG", "write °C for"],
    ["-3 C", "temperature", "QUANTITY_UNIT_WRONG", "not a unit"],
    ["270 K", "temperature", "QUANTITY_UNIT_WRONG", "not a unit"],
    ["-0.27 %/K", "absolute temperature coefficient", "QUANTITY_UNIT_WRONG", "relative"],
    ["-134 mV/K", "relative temperature coefficient", "QUANTITY_UNIT_WRONG", "absolute"],
    ["5 kdB", "sound level", "QUANTITY_UNIT_WRONG", "not a unit"],
    ["5 foo", "length", "QUANTITY_UNIT_WRONG", "not a unit"],
    ["5 V V", "voltage", "QUANTITY_UNIT_WRONG", "not a unit"],
  ];

describe("parseQuantity", () => {
  test.each(READ)("reads %j as %s in base units", (text, dimension, value) => {
    expect(parseQuantity(text, dimension)).toEqual({ ok: true, value });
  });

  test.each(REFUSED)("refuses %j as %s with %s", (text, dimension, code, says) => {
    const result = parseQuantity(text, dimension);
    expect(result).toMatchObject({ ok: false, problem: { code } });
    expect(result.ok ? "" : result.problem.message).toContain(says);
  });

  test("takes a bare number in the base unit only when the caller allows it", () => {
    expect(parseQuantity("741.3", "voltage", { bareNumber: "base unit" })).toEqual({
      ok: true,
      value: 741.3,
    });
    expect(parseQuantity("12", "duration", { bareNumber: "base unit" })).toEqual({ ok: true, value: 12 });
    expect(parseQuantity("NaN", "voltage", { bareNumber: "base unit" }).ok).toBe(false);
  });

  test("never gives negative zero, which would print as -0", () => {
    const result = parseQuantity("-0 V", "voltage");
    expect(result.ok && Object.is(result.value, 0)).toBe(true);
  });
});

describe("parseTemperatureCoefficient", () => {
  test("keeps a share per kelvin and volts per kelvin apart", () => {
    expect(parseTemperatureCoefficient("-0.27 %/K")).toEqual({
      ok: true,
      value: { kind: "relative", perKelvin: -0.0027 },
    });
    expect(parseTemperatureCoefficient("-134 mV/K")).toEqual({
      ok: true,
      value: { kind: "absolute", voltsPerKelvin: -0.134 },
    });
  });

  test("names both kinds when the unit is missing or foreign", () => {
    const missing = parseTemperatureCoefficient("-0.27");
    expect(missing).toMatchObject({ ok: false, problem: { code: "QUANTITY_UNIT_MISSING" } });
    expect(missing.ok ? "" : missing.problem.allowed).toMatch(/%\/K.*mV\/K/u);
    expect(parseTemperatureCoefficient("-0.27 V")).toMatchObject({
      problem: { code: "QUANTITY_UNIT_WRONG" },
    });
  });
});
