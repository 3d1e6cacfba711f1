import { describe, expect, it } from "vitest";
import { dateOfDay, localCalendar, monthOfDay } from "./local-day.ts";
import { morningsOf } from "./mornings.ts";

const ENDS = { ceilingOhms: 2e7, floorOhms: 1000, from: "stated" } as const;
const utc = (text: string): number => Date.parse(text);

describe("local mornings", () => {
  it.each([
    ["2026-03-29T00:59Z", "Europe/Berlin", "2026-03-29", 119],
    ["2026-03-29T01:00Z", "Europe/Berlin", "2026-03-29", 180],
    ["2026-10-25T00:59Z", "Europe/Berlin", "2026-10-25", 179],
    ["2026-10-25T01:00Z", "Europe/Berlin", "2026-10-25", 120],
    ["2025-12-31T20:30Z", "Australia/Melbourne", "2026-01-01", 450],
    ["2026-01-01T06:00Z", "America/Phoenix", "2025-12-31", 1380],
  ])("%s in %s is %s, minute %i", (instant, zone, date, minute) => {
    const { day, minuteOfDay } = localCalendar(zone)(utc(instant));
    expect([dateOfDay(day), minuteOfDay]).toEqual([date, minute]);
  });

  it("knows the month of every day from 1960 to 2100 as a Date does", () => {
    for (let day = -3653; day < 47_482; day++)
      if (monthOfDay(day) !== new Date(day * 86_400_000).getUTCMonth()) throw new Error(dateOfDay(day));
    expect(monthOfDay(0)).toBe(0);
  });

  it("takes the lowest reading before noon, and its bound", () => {
    const found = morningsOf(
      [
        { at: utc("2026-06-01T06:00Z"), ohms: 2e7 },
        { at: utc("2026-06-01T14:00Z"), ohms: 5e5 },
        { at: utc("2026-06-02T06:00Z"), ohms: 900 },
        { at: utc("2026-06-03T15:00Z"), ohms: 3e6 },
      ],
      "UTC",
      ENDS,
    );
    expect(found.map(({ lowest, bound }) => [Math.round(10 ** lowest), bound])).toEqual([
      [20_000_000, "at-least"],
      [900, "at-most"],
      [3_000_000, "measured"],
    ]);
  });

  it.each([
    ["rain in the night is wet", { rainMm: 2 }, "wet"],
    ["air at its dew point is wet", { temperatureC: 8, humidityPercent: 99 }, "wet"],
    ["dry air is dry", { temperatureC: 20, humidityPercent: 40 }, "dry"],
    ["sun on the glass dries it", { temperatureC: 8, humidityPercent: 90, irradianceWm2: 400 }, "dry"],
    ["in between is not known", { temperatureC: 8, humidityPercent: 80 }, "unknown"],
    ["without weather is not known", {}, "unknown"],
  ] as const)("%s", (_, weather, wetness) => {
    const [morning] = morningsOf([{ at: utc("2026-06-01T06:00Z"), ohms: 1e6, ...weather }], "UTC", ENDS);
    expect(morning?.wetness).toBe(wetness);
  });

  it("knows a wet morning by its recovery", () => {
    const shape = [2e5, 3e5, 8e5, 2e6].map((ohms, i) => ({
      at: utc("2026-06-01T06:00Z") + i * 3_600_000,
      ohms,
    }));
    const [morning] = morningsOf(shape, "UTC", ENDS);
    expect(morning?.wetBy).toBe("recovery");
    expect(10 ** morning!.recovered!).toBeCloseTo(2e6, 3);
    expect(morning!.toAndFro).toBeCloseTo(0, 9);
  });
});
