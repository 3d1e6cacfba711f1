import type { WeeklyHours } from "@earthbell/engine";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { formatHours, parseHours } from "./hours.ts";

const DAY = 1440;
const span = (fromMinute: number, toMinute: number) => ({ fromMinute, toMinute });
const onDays = (days: readonly number[], ...spans: readonly (readonly [number, number])[]) =>
  days.flatMap((day) => spans.map(([from, to]) => span(day * DAY + from * 60, day * DAY + to * 60)));

describe("parseHours", () => {
  test.each<[string, WeeklyHours]>([
    ["Mon-Fri 07:00-17:00", onDays([0, 1, 2, 3, 4], [7, 17])],
    ["Mon-Sun 05:00-10:00, 15:00-19:00", onDays([0, 1, 2, 3, 4, 5, 6], [5, 10], [15, 19])],
    ["06:00-21:00", onDays([0, 1, 2, 3, 4, 5, 6], [6, 21])],
    ["Mon-Fri 08:00-12:00, Sat 9:00-11:00", [...onDays([0, 1, 2, 3, 4], [8, 12]), ...onDays([5], [9, 11])]],
    ["Sat 22:00-Sun 06:00", [span(5 * DAY + 22 * 60, 6 * DAY + 6 * 60)]],
    ["Sun 22:00-Mon 06:00", [span(0, 6 * 60), span(6 * DAY + 22 * 60, 7 * DAY)]],
    ["Fri 17:00-Mon 07:00", [span(0, 7 * 60), span(4 * DAY + 17 * 60, 7 * DAY)]],
    ["Wed 22:00-06:00", [span(2 * DAY + 22 * 60, 3 * DAY + 6 * 60)]],
    ["Sat-Mon 08:00-09:00", onDays([0, 5, 6], [8, 9])],
    ["Tue 00:00-24:00", [span(DAY, 2 * DAY)]],
    ["Mon 08:00-10:00, 09:00-12:00", [span(8 * 60, 12 * 60)]],
    ["Mon 08:00\u201312:00", [span(8 * 60, 12 * 60)]],
    ["always", [span(0, 7 * DAY)]],
    ["never", []],
  ])("reads %j", (text, hours) => {
    expect(parseHours(text)).toEqual({ ok: true, hours });
  });

  test.each([
    ["", "No hours"],
    [" ", "No hours"],
    ["Mon", "does not name days and hours"],
    ["Mon-Fri", "does not name days and hours"],
    ["mon 08:00-09:00", "does not name days and hours"],
    ["Moo 08:00-09:00", "Moo is not a day"],
    ["Mon 08:00-09:60", "an hour that no day has"],
    ["Mon 08:00-25:00", "an hour that no day has"],
    ["Mon 24:00-02:00", "an hour that no day has"],
    ["Mon 08:00-08:00", "begins and ends at the same minute"],
    ["Mon 08:00-Mon 08:00", "begins and ends at the same minute"],
    ["Mon 08:00-09:00,", "comma"],
    ["Sat 22:00-Sun 06:00, 08:00-09:00", "needs its days"],
    ["Mon 8-9", "does not name days and hours"],
  ])("refuses %j", (text, says) => {
    const result = parseHours(text);
    expect(result.ok ? "" : result.message).toContain(says);
  });
});

/** Any minutes of the week, as hours that neither overlap nor touch. */
const weeks = fc
  .uniqueArray(fc.integer({ min: 0, max: 7 * DAY }), { maxLength: 12 })
  .map((minutes) => minutes.sort((a, b) => a - b))
  .map((minutes) => minutes.flatMap((minute, at) => (at % 2 === 1 ? [span(minutes[at - 1]!, minute)] : [])));

describe("formatHours", () => {
  test.each<[string, WeeklyHours]>([
    ["never", []],
    ["always", [span(0, 7 * DAY)]],
    ["Mon-Fri 07:00-17:00", onDays([0, 1, 2, 3, 4], [7, 17])],
    ["Mon-Sun 05:00-10:00, 15:00-19:00", onDays([0, 1, 2, 3, 4, 5, 6], [5, 10], [15, 19])],
    ["Sat 22:00-24:00, Sun 00:00-06:00", [span(5 * DAY + 22 * 60, 6 * DAY + 6 * 60)]],
  ])("prints %j", (text, hours) => {
    expect(formatHours(hours)).toBe(text);
  });

  test("prints what parseHours reads as the same hours", () => {
    fc.assert(
      fc.property(weeks, (hours) => {
        expect(parseHours(formatHours(hours))).toEqual({ ok: true, hours });
      }),
    );
  });

  test("of what parseHours read are sorted and apart", () => {
    const clock = fc
      .tuple(fc.integer({ min: 0, max: 23 }), fc.constantFrom("00", "15", "59"))
      .map((at) => at.join(":"));
    const day = fc.constantFrom("Mon", "Wed", "Fri", "Sun");
    const part = fc.tuple(day, day, clock, clock).map(([a, b, from, to]) => `${a}-${b} ${from}-${to}`);
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 4 }), (parts) => {
        const result = parseHours(parts.join(", "));
        if (!result.ok) return;
        for (const [at, { fromMinute, toMinute }] of result.hours.entries()) {
          expect(fromMinute).toBeGreaterThan(result.hours[at - 1]?.toMinute ?? -1);
          expect(toMinute).toBeGreaterThan(fromMinute);
          expect(toMinute).toBeLessThanOrEqual(7 * DAY);
        }
      }),
    );
  });
});
