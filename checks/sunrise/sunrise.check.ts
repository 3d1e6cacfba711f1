import { sunDay } from "@earthbell/engine";
import { describe, expect, it } from "vitest";

const cases = [
  ["2024-03-20", "2024-03-20T14:10:51Z", "2024-03-21T02:23:04Z"],
  ["2024-06-21", "2024-06-21T12:11:40Z", "2024-06-22T04:10:57Z"],
  ["2024-12-21", "2024-12-21T15:55:03Z", "2024-12-22T00:20:33Z"],
] as const;

const dayNumber = (date: string): number => Date.parse(`${date}T00:00:00Z`) / 86_400_000;

describe("sunrise and sunset at 47.61° N 122.33° W, suncalc, R maptools and PyEphem in agreement", () => {
  it.each(cases)("%s: rises %s, sets %s", (date, rises, sets) => {
    const sun = sunDay(dayNumber(date), 47.61, -122.33);
    expect(sun.kind).toBe("rises-and-sets");
    if (sun.kind !== "rises-and-sets") return;
    expect(Math.abs(sun.sunrise * 60 - Date.parse(rises) / 1000)).toBeLessThanOrEqual(5);
    expect(Math.abs(sun.sunset * 60 - Date.parse(sets) / 1000)).toBeLessThanOrEqual(5);
  });
});
