import type { Site } from "@earthbell/engine";
import { checkReading, localTime } from "@earthbell/model";
import { describe, expect, it } from "vitest";
import { demoPast } from "./demo-past.ts";

const NOW = Date.UTC(2026, 10, 25, 20);
const ZONE = "Australia/Melbourne";
const site = {
  id: "pump-house",
  place: { timezone: ZONE },
  arrays: [
    { id: "A1", inverter: "INV1" },
    { id: "A2", inverter: "INV1" },
  ],
} as unknown as Site;

describe("the past of the demonstration", () => {
  const made = [...demoPast([site], NOW, 7)];
  const readings = made.flat();

  it("is made of readings of each array that a desk takes, a few at a time so that nobody waits", () => {
    expect(new Set(readings.map(({ array }) => array))).toEqual(new Set(["A1", "A2"]));
    expect(Math.max(...made.map(({ length }) => length))).toBeLessThanOrEqual(60);
    expect(readings.length).toBeGreaterThan(2 * 1600);
    expect(readings.filter((one) => !checkReading(one).ok)).toEqual([]);
    expect(new Set(readings.map(({ key }) => key)).size).toBe(readings.length);
  });

  it("lies in the past, so that it decides nothing today", () => {
    const DAY_MS = 86_400_000;
    expect(Math.max(...readings.map(({ at }) => at))).toBeLessThan(NOW - DAY_MS);
    expect(readings.some(({ quality }) => quality === "good")).toBe(false);
  });

  it("is read in the morning of the site, summer time apart", () => {
    const hours = readings.map(({ at }) => localTime(at, ZONE).minuteOfDay / 60);
    expect(Math.min(...hours)).toBeGreaterThanOrEqual(5);
    expect(Math.max(...hours)).toBeLessThanOrEqual(8);
  });

  it("is the same for the same seed", () => {
    expect([...demoPast([site], NOW, 7)]).toEqual(made);
  });
});
