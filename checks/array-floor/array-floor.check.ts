import { healthyFloor, type SquareMetres } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import cases from "./cases.json" with { type: "json" };

describe("IEC 61215-2 MQT 15, 40 MΩ·m² over the area", () => {
  it.each(cases.floors)("$areaM2 m²: $kiloohms kΩ", ({ areaM2, kiloohms, digits }) => {
    expect(healthyFloor(areaM2 as SquareMetres) / 1000).toBeCloseTo(kiloohms, digits);
  });
});
