import { describe, expect, it } from "vitest";
import { MINUTE } from "./span.ts";
import { daysLater, instantOf, localTime, nextWithin } from "./zone.ts";

const at = (iso: string): number => Date.parse(iso);
const day = (from: number, to: number, weekday = 0) => ({
  fromMinute: weekday * 1440 + from * 60,
  toMinute: weekday * 1440 + to * 60,
});
const SUNDAY = 6;

// Offsets and nights of change: IANA time zone database (published), Europe from 1996 and Lord Howe from 2008 on.
describe("the wall clock of a site", () => {
  it.each([
    ["2026-03-29T00:59:59Z", "Europe/Berlin", "2026-03-29", 1 * 60 + 59, "before the hour that is skipped"],
    ["2026-03-29T01:00:00Z", "Europe/Berlin", "2026-03-29", 3 * 60, "after it"],
    ["2026-10-25T00:30:00Z", "Europe/Berlin", "2026-10-25", 2 * 60 + 30, "the first 02:30"],
    ["2026-10-25T01:30:00Z", "Europe/Berlin", "2026-10-25", 2 * 60 + 30, "the second 02:30"],
    [
      "2026-04-04T14:59:00Z",
      "Australia/Lord_Howe",
      "2026-04-05",
      1 * 60 + 59,
      "before the half hour is repeated",
    ],
    ["2026-04-04T15:00:00Z", "Australia/Lord_Howe", "2026-04-05", 1 * 60 + 30, "after"],
    [
      "2026-10-03T15:30:00Z",
      "Australia/Lord_Howe",
      "2026-10-04",
      2 * 60 + 30,
      "after half an hour is skipped",
    ],
    ["2028-02-29T12:00:00Z", "Pacific/Kiritimati", "2028-03-01", 2 * 60, "a leap day, fourteen hours ahead"],
    ["2026-01-01T04:59:00Z", "America/New_York", "2025-12-31", 23 * 60 + 59, "the last minute of a year"],
    ["1969-12-31T23:59:30Z", "UTC", "1969-12-31", 23 * 60 + 59, "an instant before the epoch"],
  ])("%s in %s is %s, minute %i: %s", (iso, zone, date, minuteOfDay) => {
    expect(localTime(at(iso), zone)).toEqual({ date, minuteOfDay });
  });

  it.each([
    [
      "2026-03-29",
      150,
      "Europe/Berlin",
      "2026-03-29T01:00:00Z",
      "a minute that is skipped: the first one after",
    ],
    ["2026-10-25", 150, "Europe/Berlin", "2026-10-25T00:30:00Z", "a minute that comes twice: the earlier"],
    [
      "2026-10-04",
      135,
      "Australia/Lord_Howe",
      "2026-10-03T15:30:00Z",
      "02:15, in the half hour that is skipped",
    ],
    [
      "2026-04-05",
      105,
      "Australia/Lord_Howe",
      "2026-04-04T14:45:00Z",
      "01:45, in the half hour that comes twice",
    ],
    ["2028-02-29", 720, "Europe/Berlin", "2028-02-29T11:00:00Z", "noon of a leap day"],
    ["2026-12-31", 1440, "Europe/Berlin", "2026-12-31T23:00:00Z", "midnight at the end of a year"],
  ])("%s minute %i in %s is %s: %s", (date, minute, zone, iso) => {
    expect(instantOf(date, minute, zone)).toBe(at(iso));
  });

  it("counts days of the calendar over a leap day", () => {
    expect(daysLater("2028-02-28", 1)).toBe("2028-02-29");
    expect(daysLater("2028-03-01", -1)).toBe("2028-02-29");
    expect(daysLater("2027-02-28", 1)).toBe("2027-03-01");
  });

  it("takes a zone that the system does not know as UTC", () => {
    expect(localTime(at("2026-06-01T05:12:00Z"), "Nowhere/Land")).toEqual({
      date: "2026-06-01",
      minuteOfDay: 312,
    });
  });
});

describe("the next hour inside hours of the week", () => {
  const office = [0, 1, 2, 3, 4].map((weekday) => day(7, 17, weekday));

  it.each([
    ["2026-06-01T05:00:00Z", "2026-06-01T05:00:00Z", "Monday 07:00 is inside already"],
    ["2026-06-01T04:59:59Z", "2026-06-01T05:00:00Z", "a second before, it is the next second"],
    ["2026-06-01T15:00:00Z", "2026-06-02T05:00:00Z", "17:00 is outside: hours end before it"],
    ["2026-06-05T15:00:00Z", "2026-06-08T05:00:00Z", "Friday evening waits for Monday"],
    [
      "2026-10-23T15:00:00Z",
      "2026-10-26T06:00:00Z",
      "over the end of daylight saving, still 07:00 on the wall",
    ],
    ["2026-03-27T16:00:00Z", "2026-03-30T05:00:00Z", "and over its beginning"],
  ])("from %s it is %s: %s", (from, next) => {
    expect(nextWithin(office, at(from), "Europe/Berlin")).toBe(at(next));
  });

  it("passes over hours that lie in the gap of a daylight-saving night", () => {
    const gap = [day(2, 3, SUNDAY)];
    expect(nextWithin(gap, at("2026-03-28T12:00:00Z"), "Europe/Berlin")).toBe(at("2026-04-05T00:00:00Z"));
  });

  it("is inside twice where the hour is repeated", () => {
    const twice = [day(2, 3, SUNDAY)];
    const second = at("2026-10-25T01:30:00Z");
    expect(nextWithin(twice, second, "Europe/Berlin")).toBe(second);
    expect(nextWithin(twice, second + 30 * MINUTE, "Europe/Berlin")).toBe(at("2026-11-01T01:00:00Z"));
  });

  it("runs over the end of a week and of a year, and never comes for no hours", () => {
    expect(nextWithin([day(0, 6)], at("2027-12-31T23:30:00Z"), "UTC")).toBe(at("2028-01-03T00:00:00Z"));
    expect(nextWithin([], at("2026-06-01T05:00:00Z"), "UTC")).toBeNull();
  });
});
