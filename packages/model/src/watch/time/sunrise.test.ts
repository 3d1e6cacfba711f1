import { describe, expect, it } from "vitest";
import { DAY, HOUR } from "./span.ts";
import { nextSunriseAt, sunOfDay } from "./sunrise.ts";
import { localTime } from "./zone.ts";

const at = (iso: string): number => Date.parse(iso);
const BERLIN = { latitudeDeg: 52.5, longitudeDeg: 13.4 };

// The sunrise itself is checked in checks/sunrise; here only which one is taken.
describe("the next sunrise", () => {
  it("lies ahead, and a day after the one before", () => {
    const first = nextSunriseAt(at("2026-06-01T12:00:00Z"), BERLIN)!;
    expect(first).toBeGreaterThan(at("2026-06-02T02:00:00Z"));
    expect(first).toBeLessThan(at("2026-06-02T04:00:00Z"));
    const second = nextSunriseAt(first, BERLIN)!;
    expect(Math.abs(second - first - DAY)).toBeLessThan(5 * 60_000);
    expect(nextSunriseAt(first - 1, BERLIN)).toBe(first);
  });

  it("does not come in the polar night nor in the polar day", () => {
    const north = { latitudeDeg: 78, longitudeDeg: 15 };
    expect(nextSunriseAt(at("2026-12-21T12:00:00Z"), north)).toBeNull();
    expect(nextSunriseAt(at("2026-06-21T12:00:00Z"), north)).toBeNull();
  });
});

describe("the sun of a local date", () => {
  it.each([
    ["Pacific/Kiritimati", 1.9, -157.4],
    ["Pacific/Apia", -13.8, -171.8],
    ["Australia/Lord_Howe", -31.6, 159.1],
    ["Pacific/Honolulu", 21.3, -157.9],
    ["Europe/Berlin", 52.5, 13.4],
  ])("comes up in %s between 04:00 and 09:00 of that very date", (zone, latitudeDeg, longitudeDeg) => {
    for (const date of ["2026-01-15", "2026-03-29", "2026-10-04", "2028-02-29"]) {
      const sun = sunOfDay(date, zone, { latitudeDeg, longitudeDeg });
      expect(sun.kind).toBe("up");
      const local = localTime(sun.kind === "up" ? sun.at : NaN, zone);
      expect(local.date).toBe(date);
      expect(local.minuteOfDay).toBeGreaterThan(4 * 60);
      expect(local.minuteOfDay).toBeLessThan(9 * 60);
    }
  });

  it("stays down in the polar night, is up from midnight in the polar day, and is unknown without a place", () => {
    const north = { latitudeDeg: 78, longitudeDeg: 15 };
    expect(sunOfDay("2026-12-21", "Arctic/Longyearbyen", north)).toEqual({ kind: "down-all-day" });
    const up = { kind: "up", at: at("2026-06-21T00:00:00Z") - 2 * HOUR };
    expect(sunOfDay("2026-06-21", "Arctic/Longyearbyen", north)).toEqual(up);
    expect(sunOfDay("2026-06-21", "UTC", null)).toEqual({ kind: "unknown" });
  });
});
