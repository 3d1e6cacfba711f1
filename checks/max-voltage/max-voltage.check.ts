import {
  type Celsius,
  maxArrayVoltage,
  type ModuleType,
  type PerKelvin,
  type VoltsPerKelvin,
} from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import cases from "./cases.json" with { type: "json" };

const module = (voc: number, more: Partial<ModuleType> = {}): ModuleType =>
  ({ id: "M", pmax: 400, voc, ...more }) as ModuleType;

function volts(type: ModuleType, modules: number, celsius: number): number {
  const result = maxArrayVoltage(type, modules, celsius as Celsius);
  if (!result.known) throw new Error(result.missing.join());
  return result.max.volts;
}

describe("V = N · Voc · [1 + β (T − 25)]", () => {
  it.each(cases.coefficient)(
    "$what: $volts V at $celsius °C",
    ({ voc, perKelvin, modules, celsius, volts: expected, digits }) => {
      const relative = module(voc, {
        vocTemperatureCoefficient: { kind: "relative", perKelvin: perKelvin as PerKelvin },
      });
      const absolute = module(voc, {
        vocTemperatureCoefficient: { kind: "absolute", voltsPerKelvin: (perKelvin * voc) as VoltsPerKelvin },
      });
      expect(volts(relative, modules, celsius)).toBeCloseTo(expected, digits);
      expect(volts(absolute, modules, celsius)).toBeCloseTo(expected, digits);
    },
  );

  it.each(cases.factor)(
    "factor $factor for $perKelvin per K at $celsius °C",
    ({ perKelvin, celsius, factor, digits }) => {
      const unit = module(100, {
        vocTemperatureCoefficient: { kind: "relative", perKelvin: perKelvin as PerKelvin },
      });
      expect(volts(unit, 1, celsius) / 100).toBeCloseTo(factor, digits);
    },
  );
});

describe("table fallback", () => {
  it.each(cases.table)(
    "$modules × $voc V at $celsius °C: $volts V for crystalline silicon only",
    ({ voc, modules, celsius, volts: expected, digits }) => {
      expect(volts(module(voc, { technology: "crystalline-silicon" }), modules, celsius)).toBeCloseTo(
        expected,
        digits,
      );
      expect(
        maxArrayVoltage(module(voc, { technology: "thin-film" }), modules, celsius as Celsius).known,
      ).toBe(false);
      expect(maxArrayVoltage(module(voc), modules, celsius as Celsius).known).toBe(false);
    },
  );
});
