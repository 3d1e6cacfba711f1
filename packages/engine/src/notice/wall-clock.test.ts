import { describe, expect, it } from "vitest";
import { type ActiveSpans, activeSpans, spanAt } from "./active-spans.ts";
import { dailyHours } from "./assumptions.ts";
import { attentionOf, unseenAfter, watcherOf } from "./attention.ts";
import { localMidnight, minuteOfWeek, offsetPeriods } from "./wall-clock.ts";

const at = (iso: string): number => Date.parse(iso) / 60_000;
const YEAR = [at("2026-01-01T00:00Z"), at("2027-01-01T00:00Z")] as const;
const NIGHT = dailyHours(0, 6);

/** Active minutes from an instant to each lag after it, from what a watcher of one look in a thousand minutes has missed. */
function activeMinutes(spans: ActiveSpans, from: number, lags: readonly number[]): readonly number[] {
  const attention = attentionOf(watcherOf(spans, 1e-3), Float64Array.from(lags));
  const unseen = new Float64Array(lags.length);
  unseenAfter(attention, from, 0, spanAt(spans, from), 0, unseen);
  return Array.from(unseen, (left) => -1000 * Math.log(left));
}

function expectMinutes(found: readonly number[], minutes: readonly number[]): void {
  expect(found).toHaveLength(minutes.length);
  found.forEach((one, i) => {
    expect(one).toBeCloseTo(minutes[i]!, 6);
  });
}

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
    expectMinutes(activeMinutes(spans, from, [to - from]), [minutes]);
  });

  it("leaves absences out and counts along a list of lags", () => {
    const periods = offsetPeriods("UTC", ...YEAR)!;
    const away = [{ start: at("2026-06-02T00:00Z"), end: at("2026-06-04T00:00Z") }];
    const spans = activeSpans(NIGHT, periods, away);
    const lags = [0, 60, 1440, 4320];
    expectMinutes(activeMinutes(spans, at("2026-06-01T03:00Z"), lags), [0, 60, 180, 360]);
  });

  it("counts parts of minutes, hours before the first span and after the last, and spans longer than a day", () => {
    const periods = offsetPeriods("UTC", ...YEAR)!;
    const week = activeSpans([{ fromMinute: 0, toMinute: 2 * 1440 + 90 }], periods);
    // Monday 2026-06-01; the span ends on Wednesday at 01:30.
    const lags = [30, 1440, 2880, 5000, 10_080];
    expectMinutes(activeMinutes(week, at("2026-06-01T00:00Z") + 0.25, lags), [30, 1440, 2880, 2969.75, 2970]);
    expectMinutes(
      activeMinutes(week, at("2026-06-01T00:00Z") - 10.5, lags),
      [19.5, 1429.5, 2869.5, 2970, 2970],
    );
    expectMinutes(activeMinutes(week, at("2027-06-01T00:00Z"), lags), [0, 0, 0, 0, 0]);
  });
});
