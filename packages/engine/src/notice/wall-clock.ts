import type { UtcMinute } from "../sun/sun-times.ts";

const WEEK = 10080;
const DAY = 1440;
/** 1970-01-01 was a Thursday; weeks here begin on Monday 00:00. */
const EPOCH_WEEK_MINUTE = 3 * DAY;

/** A stretch of time with one offset: local = UTC + offset. */
export interface OffsetPeriod {
  readonly from: UtcMinute;
  readonly to: UtcMinute;
  readonly offsetMin: number;
}

function offsetReader(timezone: string): ((at: UtcMinute) => number) | null {
  try {
    const format = new Intl.DateTimeFormat("en-US", { timeZone: timezone, timeZoneName: "longOffset" });
    return (at) => {
      const name =
        format.formatToParts(at * 60_000).find((part) => part.type === "timeZoneName")?.value ?? "GMT";
      const match = /^GMT([+-])(\d\d):(\d\d)/.exec(name);
      if (match === null) return 0;
      const minutes = Number(match[2]) * 60 + Number(match[3]);
      return match[1] === "-" ? -minutes : minutes;
    };
  } catch {
    return null;
  }
}

/** Zones already looked through: a comparison of many models, or a fleet, asks for the same few again and again. */
const looked = new Map<string, readonly OffsetPeriod[] | null>();
const MOST_LOOKED = 64;

/**
 * The offsets of an IANA zone over a span, with daylight-saving changes found to the minute.
 *
 * @returns null where the zone is not known to this system's zone data
 * Assumes two changes are more than a week apart.
 */
export function offsetPeriods(
  timezone: string,
  from: UtcMinute,
  to: UtcMinute,
): readonly OffsetPeriod[] | null {
  const key = `${timezone} ${from} ${to}`;
  const known = looked.get(key);
  if (known !== undefined) return known;
  const read = offsetReader(timezone);
  const periods = read === null ? null : periodsRead(read, from, to);
  if (looked.size >= MOST_LOOKED) looked.clear();
  looked.set(key, periods);
  return periods;
}

function periodsRead(
  read: (at: UtcMinute) => number,
  from: UtcMinute,
  to: UtcMinute,
): readonly OffsetPeriod[] {
  const periods: OffsetPeriod[] = [];
  let start = from;
  let offset = read(from);
  for (let at = from; at < to; at += WEEK) {
    const next = Math.min(at + WEEK, to);
    const offsetThen = read(next);
    if (offsetThen === offset) continue;
    let before = at;
    let after = next;
    while (after - before > 1) {
      const middle = Math.floor((before + after) / 2);
      if (read(middle) === offset) before = middle;
      else after = middle;
    }
    periods.push({ from: start, to: after, offsetMin: offset });
    start = after;
    offset = offsetThen;
  }
  return [...periods, { from: start, to, offsetMin: offset }];
}

/** One offset all the time: for a site of which only the longitude, or nothing, is known. */
export function fixedOffset(offsetMin: number, from: UtcMinute, to: UtcMinute): readonly OffsetPeriod[] {
  return [{ from, to, offsetMin }];
}

/** Minute of the local week, Monday 00:00 = 0. */
export function minuteOfWeek(localMinute: number): number {
  return (((localMinute + EPOCH_WEEK_MINUTE) % WEEK) + WEEK) % WEEK;
}

/** UTC minute of local midnight at the beginning of a day; in a zone that skips midnight, the first minute after. */
export function localMidnight(dayNumber: number, periods: readonly OffsetPeriod[]): UtcMinute {
  const local = dayNumber * DAY;
  const inside = periods.find((period) => local - period.offsetMin < period.to) ?? periods.at(-1)!;
  return Math.max(local - inside.offsetMin, inside.from);
}
