import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Inverter, ModuleType, PvArray } from "../assess/site.ts";
import type {
  Celsius,
  Ohms,
  PerKelvin,
  SquareMillimetres,
  VoltAmperes,
  Volts,
  Watts,
} from "../quantity/index.ts";
import type { ThresholdTable } from "../rules/pack.ts";
import { arrayVoltage } from "./array-voltage.ts";
import { conductorKind, conductorResistancePerMetre } from "./conductor.ts";
import { maxArrayVoltage, voltageText } from "./max-voltage.ts";
import { E12, E24, preferredAtLeast, preferredAtMost } from "./preferred-values.ts";
import { residualLimit } from "./residual-limit.ts";
import { temperatureFactor } from "./temperature-factor.ts";
import { insulationThreshold } from "./threshold.ts";

const MODULE: ModuleType = {
  id: "M",
  pmax: 400 as Watts,
  voc: 50 as Volts,
  vocTemperatureCoefficient: { kind: "relative", perKelvin: -0.003 as PerKelvin },
};
const ARRAY: PvArray = {
  id: "A",
  inverter: "I",
  module: "M",
  strings: [
    { id: "S1", modules: 10 },
    { id: "S2", modules: 12 },
  ],
};
const INVERTER: Inverter = { id: "I", ratedPower: 5000 as VoltAmperes };

describe("highest array voltage", () => {
  it.each([
    // 18 × 38.2 V × 1.0837 = 745.152 V, by hand: not 745.2 in one place and 745.1 in another.
    [745.152, "745.15 V"],
    [745.15, "745.15 V"],
    [40.227, "40.23 V"],
    [101, "101 V"],
    [1234.567, "1234.6 V"],
  ])("of %f V is written %s wherever it stands", (volts, text) => {
    expect(voltageText(volts)).toBe(text);
  });

  it("goes by the longest string", () => {
    expect(arrayVoltage(ARRAY, MODULE, INVERTER, 25 as Celsius).max?.volts).toBe(600);
  });

  it("is bounded by the rated voltage and that at −90 °C when the place's temperature is not stated", () => {
    const voltage = arrayVoltage(ARRAY, MODULE, INVERTER, undefined);
    expect(voltage).toMatchObject({ max: null, atLeastV: 600, missing: ["site.lowestTemperature"] });
    // 12 × 50 V × (1 + 0.003 × 115), by hand
    expect(voltage.atMostV).toBeCloseTo(807, 9);
  });

  it("has no upper bound without a coefficient", () => {
    const bare: ModuleType = { id: "M", pmax: MODULE.pmax, voc: MODULE.voc };
    const voltage = arrayVoltage(ARRAY, bare, INVERTER, undefined);
    expect(voltage.atMostV).toBe(Infinity);
    expect(voltage.missing).toHaveLength(2);
  });

  it("refuses a coefficient that is not negative: a sign was lost", () => {
    const wrong = {
      ...MODULE,
      vocTemperatureCoefficient: { kind: "relative", perKelvin: 0.003 as PerKelvin },
    } as const;
    const result = maxArrayVoltage(wrong, 10, 0 as Celsius);
    expect(result).toMatchObject({ known: false });
    expect(JSON.stringify(result)).toContain("must be negative");
  });

  it("never falls when it gets colder, by coefficient or by table", () => {
    const table: ModuleType = {
      id: "M",
      pmax: 400 as Watts,
      voc: 50 as Volts,
      technology: "crystalline-silicon",
    };
    fc.assert(
      fc.property(
        fc.double({ min: -40, max: 40, noNaN: true }),
        fc.double({ min: 0, max: 20, noNaN: true }),
        fc.constantFrom(MODULE, table),
        (warm, colder, module) => {
          const at = (celsius: number): number => {
            const result = maxArrayVoltage(module, 10, Math.max(-40, celsius) as Celsius);
            return result.known ? result.max.volts : Number.NaN;
          };
          expect(at(warm - colder)).toBeGreaterThanOrEqual(at(warm));
        },
      ),
    );
  });

  it("by table is on the safe side of a common coefficient, −0.3 %/K, from 24 down to −40 °C", () => {
    for (let celsius = -40; celsius <= 24; celsius++)
      expect(temperatureFactor(celsius as Celsius)!.value).toBeGreaterThanOrEqual(
        1 + 0.003 * (25 - celsius) - 0.06,
      );
  });
});

describe("preferred values", () => {
  const ohms = fc.double({ min: 1e-3, max: 1e9, noNaN: true });
  it("enclose any resistance between neighbours of the series, and leave members alone", () => {
    fc.assert(
      fc.property(ohms, fc.constantFrom(E12, E24), (value, series) => {
        const below = preferredAtMost(value as Ohms, series);
        const above = preferredAtLeast(value as Ohms, series);
        expect(below).toBeLessThanOrEqual(value * (1 + 1e-9));
        expect(above).toBeGreaterThanOrEqual(value * (1 - 1e-9));
        expect(above / below).toBeLessThan(series === E24 ? 1.17 : 1.26);
        expect(preferredAtMost(below, series)).toBe(below);
        expect(preferredAtLeast(above, series)).toBe(above);
      }),
    );
  });

  it.each([0, -5, Number.NaN, Infinity])("refuses %d Ω with its code", (value) => {
    expect(() => preferredAtMost(value as Ohms)).toThrow("LIMITS_RESISTANCE_NOT_POSITIVE");
  });
});

describe("conductors", () => {
  it("has no tinned column for classes 1 and 2", () => {
    expect(conductorKind(2, true)).toBeNull();
    expect(conductorKind(5, true)).toBe("flexible-tinned");
    expect(conductorKind(1, false)).toBe("solid-or-stranded");
  });

  it("orders every size: tinned flexible above plain flexible above stranded", () => {
    for (const area of [0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16] as SquareMillimetres[]) {
      const [tinned, plain, stranded] = (["flexible-tinned", "flexible", "solid-or-stranded"] as const).map(
        (kind) => conductorResistancePerMetre(area, kind, 20 as Celsius)!.value,
      );
      expect(tinned!).toBeGreaterThan(plain!);
      expect(plain!).toBeGreaterThan(stranded!);
    }
  });
});

describe("a pack's own tables", () => {
  it("replace the residual limits of the standard", () => {
    const rows = [{ above: 0, milliamps: { value: 200, source: "own copy", tag: "user" as const } }];
    expect(residualLimit(50_000 as VoltAmperes, rows)).toEqual({
      continuousMilliamps: 200,
      source: "own copy",
      tag: "user",
    });
    expect(residualLimit(50_000 as VoltAmperes, [])).toBeNull();
  });

  it("show the other reading of the rating where kW and kVA fall in different rows", () => {
    const sourced = (value: number) => ({ value, source: "own copy", tag: "user" as const });
    const table: ThresholdTable = {
      rating: { value: "array-kilowatts", source: "own copy", tag: "user" },
      rows: [
        { above: 0, atMost: 20, ohms: sourced(30_000) },
        { above: 20, ohms: sourced(20_000) },
      ],
    };
    expect(insulationThreshold(table, 20.5, 20)).toMatchObject({
      ohms: { value: 20_000 },
      otherwise: { ohms: { value: 30_000 }, rating: "inverter-kilovoltamperes" },
    });
    expect(insulationThreshold(table, 20, 18)).not.toHaveProperty("otherwise");
  });
});
