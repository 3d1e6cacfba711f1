import { describe, expect, it } from "vitest";
import { activeMinutesAfter, activeMinutesBefore, activeSpans } from "./active-spans.ts";
import { dailyHours } from "./assumptions.ts";
import { localMidnight, minuteOfWeek, offsetPeriods } from "./wall-clock.ts";

const at = (iso: string): number => Date.parse(iso) / 60_000;
const YEAR = [at("2026-01-01T00:00Z"), at("2027-01-01T00:00Z")] as const;
const NIGHT = dailyHours(0, 6);

describe("wall clock", () => {
  it("finds both changes of a zone to the minute", () => {
    const periods = offsetPeriods("Europe/Berlin", ...YEAR)!;
    expect(periods.map(({ offsetMin }) => offsetMin)).toEqual([60, 120, 60]);
    expect(periods.map(({ to }) => to).slice(0, 2)).toEqual([
      at("2026-03-29T01:00Z"),
      at("2026-10-25T01:00Z"),
    ]);
  });

  it("knows a zone of a half-hour change and refuses one it does not know", () => {
    expect(offsetPeriods("Australia/Lord_Howe", ...YEAR)!.map(({ offsetMin }) => offsetMin)).toEqual([
      660, 630, 660,
    ]);
    expect(offsetPeriods("Nowhere/Land", ...YEAR)).toBeNull();
  });

  it("begins the week on Monday", () => {
    expect(minuteOfWeek(at("2026-06-01T00:00Z"))).toBe(0);
    expect(minuteOfWeek(at("2026-05-31T23:59Z"))).toBe(10_079);
  });

  it.each([
    ["2026-03-29", 5 * 60, "the skipped hour does not happen"],
    ["2026-10-25", 7 * 60, "the repeated hour happens twice"],
    ["2026-06-14", 6 * 60, "an ordinary night has its six hours"],
  ])("on the night of %s from 00:00 to 06:00 there are %i minutes: %s", (date, minutes) => {
    const periods = offsetPeriods("Europe/Berlin", ...YEAR)!;
    const spans = activeSpans(NIGHT, periods);
    const day = Math.floor(Date.parse(`${date}T00:00Z`) / 86_400_000);
    const from = localMidnight(day, periods);
    const to = localMidnight(day + 1, periods);
    expect(activeMinutesBefore(spans, to) - activeMinutesBefore(spans, from)).toBe(minutes);
  });

  it("leaves absences out and counts along a list of lags", () => {
    const periods = offsetPeriods("UTC", ...YEAR)!;
    const away = [{ start: at("2026-06-02T00:00Z"), end: at("2026-06-04T00:00Z") }];
    const spans = activeSpans(NIGHT, periods, away);
    const out = new Float64Array(4);
    activeMinutesAfter(spans, at("2026-06-01T03:00Z"), [0, 60, 1440, 4320], out);
    expect([...out]).toEqual([0, 60, 180, 360]);
  });
});
