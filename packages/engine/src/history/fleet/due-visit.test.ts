import { describe, expect, it } from "vitest";
import type { Headline } from "../headline.ts";
import type { Forecast } from "../forecast.ts";
import { dueVisit, type VisitGrounds } from "./due-visit.ts";

const SOUND: Headline = { reached: null, below: null, pattern: "progressive decline" };
const grounds = (change: Partial<VisitGrounds>): VisitGrounds => ({
  ...{ headline: SOUND, withinYear: 0.2, reason: "At the threshold in 400 days." },
  ...change,
});
const crossing = (soonestDays: number | null, middleDays: number | null) => ({
  ...{ soonestDays, middleDays, latestDays: null, withinYear: 0, withinFiveYears: 0 },
});
const forecast = (dry: Forecast["dry"], wet: Forecast["wet"]): Forecast => ({ dry, wet, fan: [] });
const finding = (change: object) => ({
  ...({ verdict: "progressive", to: "2026-02-27", forecast: null } as const),
  ...change,
});

describe("whether an array is worth a visit", () => {
  it("is now when its newest morning was below the threshold, and with the next visit when another one was", () => {
    const below = "Below the threshold.";
    const newest = grounds({ headline: { ...SOUND, below, reached: "newest" }, withinYear: 1 });
    const lately = grounds({ headline: { ...SOUND, below, reached: "lately" }, withinYear: 1 });
    expect(dueVisit(finding({}), newest)).toEqual({
      why: "Below the threshold. History: progressive decline.",
      by: "now",
    });
    expect(dueVisit(finding({}), lately)).toMatchObject({ by: "the next visit" });
  });

  it("is by the earliest day of the forecast, dry or wet, when it is as likely as not within a year", () => {
    // 2026 has 28 days in February: two days after the 27th is the first of March.
    const read = finding({ forecast: forecast(crossing(40, 90), crossing(2.9, 30)) });
    expect(dueVisit(read, grounds({ withinYear: 0.5 }))).toEqual({
      why: "Progressive decline. At the threshold in 400 days.",
      by: "2026-03-01",
    });
    expect(dueVisit(read, grounds({ withinYear: 0.49 }))).toBeNull();
  });

  it("is with the next visit where no detector can be believed, however unlikely the threshold is", () => {
    const headline = { ...SOUND, pattern: "the sensor, not the array" };
    expect(dueVisit(finding({ verdict: "sensor" }), grounds({ headline, withinYear: 0.1 }))).toEqual({
      why: "The sensor, not the array. At the threshold in 400 days.",
      by: "the next visit",
    });
  });

  it("can wait where no threshold is known, and where nothing was read", () => {
    expect(dueVisit(finding({}), grounds({ withinYear: null }))).toBeNull();
    expect(dueVisit(finding({ to: null }), grounds({ withinYear: 0.9 }))).toBeNull();
  });
});
