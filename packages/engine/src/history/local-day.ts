import { type OffsetPeriod, offsetPeriods } from "../notice/wall-clock.ts";

const MINUTE_MS = 60_000;
const DAY_MINUTES = 1440;
/** Years either side are covered, since local time can lie in another year than UTC. */
const MARGIN_MINUTES = 3 * DAY_MINUTES;

/** A place on the local calendar. */
export interface LocalMoment {
  /** Days since 1970-01-01 on the local calendar. */
  readonly day: number;
  readonly minuteOfDay: number;
}

/** Building one zone's year costs some milliseconds, looking it up costs none; the answer never changes. */
const known = new Map<string, readonly OffsetPeriod[]>();

function periodsOf(zone: string, year: number): readonly OffsetPeriod[] {
  const key = `${zone} ${year}`;
  const found = known.get(key);
  if (found !== undefined) return found;
  const from = Date.UTC(year, 0, 1) / MINUTE_MS - MARGIN_MINUTES;
  const to = Date.UTC(year + 1, 0, 1) / MINUTE_MS + MARGIN_MINUTES;
  const periods = offsetPeriods(zone, from, to);
  if (periods === null)
    throw new RangeError(`${JSON.stringify(zone)} is no zone of the IANA time zone database.`);
  known.set(key, periods);
  return periods;
}

/**
 * Turns instants into local days, quickly for instants in order.
 *
 * @throws RangeError for a zone that this system does not know
 */
export function localCalendar(zone: string): (at: number) => LocalMoment {
  let current: OffsetPeriod = { from: 1, to: 0, offsetMin: 0 };
  return (at) => {
    const minute = Math.floor(at / MINUTE_MS);
    if (minute < current.from || minute >= current.to) {
      const periods = periodsOf(zone, new Date(at).getUTCFullYear());
      current = periods.find(({ to }) => minute < to) ?? periods.at(-1)!;
    }
    const local = minute + current.offsetMin;
    const day = Math.floor(local / DAY_MINUTES);
    return { day, minuteOfDay: local - day * DAY_MINUTES };
  };
}

/** The calendar date of a local day, YYYY-MM-DD. */
export function dateOfDay(day: number): string {
  return new Date(day * DAY_MINUTES * MINUTE_MS).toISOString().slice(0, 10);
}

/**
 * Month of a local day, 0 for January: by the calendar's arithmetic, since asking a Date for every morning of a fleet is
 * what takes longest. Years begin in March there, so that the leap day comes last.
 */
export function monthOfDay(day: number): number {
  const sinceMarch = day + 719_468;
  const dayOfEra = sinceMarch - Math.floor(sinceMarch / 146_097) * 146_097;
  const year = Math.floor(
    (dayOfEra -
      Math.floor(dayOfEra / 1460) +
      Math.floor(dayOfEra / 36_524) -
      Math.floor(dayOfEra / 146_096)) /
      365,
  );
  const dayOfYear = dayOfEra - (365 * year + Math.floor(year / 4) - Math.floor(year / 100));
  return (Math.floor((5 * dayOfYear + 2) / 153) + 2) % 12;
}
