import { sunDay, type UtcMinute } from "../sun/sun-times.ts";
import type { NoticeModel } from "./notice-model.ts";
import { localMidnight, type OffsetPeriod } from "./wall-clock.ts";

/** One local day at the site. */
export interface Day {
  readonly midnight: UtcMinute;
  readonly nextMidnight: UtcMinute;
  /** The light of the day; absent in a polar night, the whole day in a polar day. */
  readonly light: { readonly from: UtcMinute; readonly to: UtcMinute } | null;
  /** When the inverter starts and checks insulation; absent where the sun does not rise. */
  readonly start: UtcMinute | null;
}

const SIX_HOURS = 360;

export interface Daylight {
  readonly day: (dayNumber: number) => Day;
  /** First start at or after an instant, looked for over the following 400 days; infinite where there is none. */
  readonly nextStart: (at: UtcMinute, fromDay: number) => UtcMinute;
}

function dayAt(dayNumber: number, model: NoticeModel, periods: readonly OffsetPeriod[]): Day {
  const midnight = localMidnight(dayNumber, periods);
  const nextMidnight = localMidnight(dayNumber + 1, periods);
  const delay = model.detector.startAfterSunriseMin;
  const { latitudeDeg, longitudeDeg } = model;
  if (latitudeDeg === undefined || longitudeDeg === undefined) {
    const light = { from: midnight + SIX_HOURS, to: midnight + 3 * SIX_HOURS };
    return { midnight, nextMidnight, light, start: light.from + delay };
  }
  const sun = sunDay(dayNumber, latitudeDeg, longitudeDeg);
  if (sun.kind === "polar-night") return { midnight, nextMidnight, light: null, start: null };
  if (sun.kind === "polar-day") {
    return { midnight, nextMidnight, light: { from: midnight, to: nextMidnight }, start: null };
  }
  const light = { from: sun.sunrise, to: sun.sunset };
  return { midnight, nextMidnight, light, start: Math.min(sun.sunrise + delay, sun.sunset) };
}

/** The days of a site, each worked out once when it is asked for. Unknown place: light from 06:00 to 18:00. */
export function daylight(model: NoticeModel, periods: readonly OffsetPeriod[]): Daylight {
  const known = new Map<number, Day>();
  const day = (dayNumber: number): Day => {
    const already = known.get(dayNumber);
    if (already) return already;
    const fresh = dayAt(dayNumber, model, periods);
    known.set(dayNumber, fresh);
    return fresh;
  };
  const nextStart = (at: UtcMinute, fromDay: number): UtcMinute => {
    for (let number = fromDay - 1; number < fromDay + 400; number++) {
      const { start } = day(number);
      if (start !== null && start >= at) return start;
    }
    return Infinity;
  };
  return { day, nextStart };
}
