import { minuteOfWeek, type OffsetPeriod, offsetPeriods, type WeeklyHours } from "@earthbell/engine";
import { DAY, MINUTE } from "./span.ts";

const DAY_MINUTES = 1440;
const WEEK_MINUTES = 7 * DAY_MINUTES;
/** Either side of a year: no zone is further from UTC, and a week of hours may run into the next year. */
const MARGIN_MINUTES = 10 * DAY_MINUTES;

/** An instant on the wall clock of a zone. */
export interface LocalTime {
  /** YYYY-MM-DD. */
  readonly date: string;
  readonly minuteOfDay: number;
}

/** Building one zone's year costs some milliseconds, looking it up costs none; the answer never changes. */
const known = new Map<string, readonly OffsetPeriod[]>();

/** A zone that this system does not know counts as UTC: a watch that stopped over it would miss a fault. */
function periodsOf(zone: string, year: number): readonly OffsetPeriod[] {
  const key = `${zone} ${year}`;
  const found = known.get(key);
  if (found !== undefined) return found;
  const from = Date.UTC(year, 0, 1) / MINUTE - MARGIN_MINUTES;
  const to = Date.UTC(year + 1, 0, 1) / MINUTE + MARGIN_MINUTES;
  const periods = offsetPeriods(zone, from, to) ?? [{ from, to, offsetMin: 0 }];
  known.set(key, periods);
  return periods;
}

/** Of each zone the period that was asked for last: the next question is mostly about the same one. */
const lastPeriods = new Map<string, OffsetPeriod>();

function localMinute(at: number, zone: string): number {
  const minute = Math.floor(at / MINUTE);
  const last = lastPeriods.get(zone);
  if (last !== undefined && last.from <= minute && minute < last.to) return minute + last.offsetMin;
  const periods = periodsOf(zone, new Date(at).getUTCFullYear());
  const period = periods.find(({ to }) => minute < to) ?? periods.at(-1)!;
  lastPeriods.set(zone, period);
  return minute + period.offsetMin;
}

/** Local minute, counted from 1970-01-01 00:00 on the wall clock, to the first instant at which the clock shows it or more. */
function instantOfLocalMinute(local: number, zone: string): number {
  const periods = periodsOf(zone, new Date(local * MINUTE).getUTCFullYear());
  const period = periods.find(({ to, offsetMin }) => local - offsetMin < to) ?? periods.at(-1)!;
  return Math.max(local - period.offsetMin, period.from) * MINUTE;
}

/** Days since 1970-01-01 of a calendar date YYYY-MM-DD. */
function dayNumber(date: string): number {
  return Date.parse(`${date}T00:00Z`) / DAY;
}

/** The calendar date `days` later. */
export function daysLater(date: string, days: number): string {
  return dateOfDay(dayNumber(date) + days);
}

/** Every reading asks for its date, and most of one day for the same one. */
const dates = new Map<number, string>();

/** YYYY-MM-DD of a number of days since 1970-01-01. */
function dateOfDay(day: number): string {
  const known = dates.get(day);
  if (known !== undefined) return known;
  const date = new Date(day * DAY).toISOString().slice(0, 10);
  dates.set(day, date);
  return date;
}

/** Date and minute that the clock on the wall shows. */
export function localTime(at: number, zone: string): LocalTime {
  const local = localMinute(at, zone);
  const minuteOfDay = ((local % DAY_MINUTES) + DAY_MINUTES) % DAY_MINUTES;
  return { date: dateOfDay((local - minuteOfDay) / DAY_MINUTES), minuteOfDay };
}

/**
 * The instant of a local date and minute. A minute that the clocks skip gives the first instant after the gap; one that
 * they repeat gives the earlier.
 */
export function instantOf(date: string, minuteOfDay: number, zone: string): number {
  return instantOfLocalMinute(dayNumber(date) * DAY_MINUTES + minuteOfDay, zone);
}

function within(hours: WeeklyHours, weekMinute: number): boolean {
  return hours.some(({ fromMinute, toMinute }) => fromMinute <= weekMinute && weekMinute < toMinute);
}

/**
 * The first instant at or after `at` that lies inside hours of the week: `at` itself where it does.
 *
 * @returns null for hours that never come
 */
export function nextWithin(hours: WeeklyHours, at: number, zone: string): number | null {
  const local = localMinute(at, zone);
  const now = minuteOfWeek(local);
  if (within(hours, now)) return at;
  const weekStart = local - now;
  for (let week = 0; week < 3; week++) {
    for (const { fromMinute } of hours) {
      const start = instantOfLocalMinute(weekStart + week * WEEK_MINUTES + fromMinute, zone);
      // Hours that lie wholly in the gap of a daylight-saving night do not come that week.
      if (start > at && within(hours, minuteOfWeek(localMinute(start, zone)))) return start;
    }
  }
  return null;
}
