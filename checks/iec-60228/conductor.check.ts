import {
  type Celsius,
  type ConductorKind,
  conductorResistancePerMetre,
  type SquareMillimetres,
} from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import cases from "./cases.json" with { type: "json" };

const kinds = Object.keys(cases.ohmsPerKm) as ConductorKind[];
const perMetre = (areaMm2: number, kind: ConductorKind, celsius: number): number | undefined =>
  conductorResistancePerMetre(areaMm2 as SquareMillimetres, kind, celsius as Celsius)?.value;

describe("IEC 60228, greatest resistance at 20 °C", () => {
  it.each(
    kinds.flatMap((kind) =>
      cases.areasMm2.map((area, i) => ({ kind, area, ohmsPerKm: cases.ohmsPerKm[kind][i]! })),
    ),
  )("$kind $area mm²: $ohmsPerKm Ω/km", ({ kind, area, ohmsPerKm }) => {
    expect(perMetre(area, kind, 20)! * 1000).toBeCloseTo(ohmsPerKm, 9);
  });

  it("has no figure for a size outside the table", () => {
    expect(perMetre(3, "flexible", 20)).toBeUndefined();
  });
});

describe("loop of two cores, 50 m, 1.5 mm², class 2", () => {
  const { areaMm2, lengthM, cores, at20C, at70C, factor70C, amperes, dropVolts } = cases.loop;
  const loop = (celsius: number): number =>
    cores * lengthM * perMetre(areaMm2, "solid-or-stranded", celsius)!;

  it("1.21 Ω at 20 °C, so 0.3025 V at 0.25 A", () => {
    expect(loop(20)).toBeCloseTo(at20C, 9);
    expect(loop(20) * amperes).toBeCloseTo(dropVolts, 9);
  });

  it("1.1965 times that at 70 °C, 1.448 Ω", () => {
    expect(loop(70) / loop(20)).toBeCloseTo(factor70C, 9);
    expect(loop(70)).toBeCloseTo(at70C, 3);
  });
});
