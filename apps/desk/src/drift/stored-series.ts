import type { HistoryContext, HistorySeries } from "@earthbell/engine";
import { type ArrayLimits, localTime } from "@earthbell/model";
import type { DeskStore } from "../store/index.ts";

/** What has to be known of an array beside its readings. */
export function historyContext(limits: ArrayLimits): HistoryContext {
  return {
    timezone: limits.zone,
    ...(limits.insulationThreshold === null ? {} : { threshold: limits.insulationThreshold }),
    ...(limits.insulationCeiling === null ? {} : { ceilingOhms: limits.insulationCeiling.value }),
  };
}

/**
 * The stored insulation of an array: the days that are kept for ever, and the single readings of the last weeks.
 */
export async function storedSeries(
  store: DeskStore,
  site: string,
  array: string,
  zone: string,
): Promise<HistorySeries> {
  const raw = await store.db
    .selectFrom("reading")
    .select(["at", "value_number as ohms"])
    .where("site", "=", site)
    .where("array_id", "=", array)
    .where("kind", "=", "insulation")
    .where("quality", "=", "good")
    .execute();
  const days = await store.db
    .selectFrom("insulation_day")
    .select(["date", "morning_lowest_ohms", "lowest_ohms"])
    .where("site", "=", site)
    .where("array_id", "=", array)
    .execute();
  const read = raw.flatMap(({ at, ohms }) => (ohms === null ? [] : [{ at, ohms }]));
  const known = new Set(read.map(({ at }) => localTime(at, zone).date));
  const older = days
    .filter(({ date }) => !known.has(date))
    // Of a day only its lowest morning figure is kept; nine in the morning stands for when it was read.
    .map((day) => ({
      at: Date.parse(`${day.date}T09:00:00Z`) - offsetMs(day.date, zone),
      ohms: day.morning_lowest_ohms ?? day.lowest_ohms,
    }));
  return { array, readings: [...older, ...read] };
}

function offsetMs(date: string, zone: string): number {
  const noon = Date.parse(`${date}T12:00:00Z`);
  const local = localTime(noon, zone);
  return Date.parse(`${local.date}T00:00:00Z`) + local.minuteOfDay * 60_000 - noon;
}
