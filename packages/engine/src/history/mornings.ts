import { dewPoint, estimatedSurfaceC } from "./dew-point.ts";
import type { InstrumentEnds } from "./instrument-ends.ts";
import { localCalendar } from "./local-day.ts";
import type { HistoryReading } from "./reading.ts";

/** A morning ends at local noon: insulation checks belong to sunrise, dew is gone by then [design choice]. */
const NOON = 720;
/** Rain from which a surface counts as wet [mm] [design choice]. */
const WET_RAIN_MM = 0.2;
/** Dew point less estimated surface: wet from the first, dry below the second, unknown between [K] [design choice]. */
const DEW_MARGIN_K = { wet: 0, dry: -2.5 } as const;
/** Readings that a morning needs for its shape, and the hours they span at least. */
const SHAPE_READINGS = 3;
const SHAPE_MINUTES = 90;
/** Recovery within a morning from which it was wet: a factor of 1.6 [design choice]. */
const WET_RECOVERY_DECADES = 0.2;

export type Wetness = "wet" | "dry" | "unknown";

/** One local morning's insulation check. */
export interface Morning {
  /** Days since 1970-01-01 on the local calendar. */
  readonly day: number;
  readonly minuteOfDay: number;
  /** log10 of the lowest reading [Ω]. */
  readonly lowest: number;
  readonly bound: "measured" | "at-least" | "at-most";
  /** log10 of the highest reading after the lowest on that day [Ω]; null where the day has too few readings. */
  readonly recovered: number | null;
  readonly recoveredBound: "measured" | "at-least";
  /** log10 of highest, first and last reading of the day [Ω]; null where the day has too few. */
  readonly profile: { readonly highest: number; readonly first: number; readonly last: number } | null;
  readonly wetness: Wetness;
  readonly wetBy: "dew" | "rain" | "recovery" | null;
  readonly temperatureC: number | null;
  readonly irradianceWm2: number | null;
  /** Dew point depression: air less dew point [K]. Null where the weather is not noted. */
  readonly depressionK: number | null;
  /** Dew point less estimated surface [K]; above zero dew forms. Null where the weather is not noted. */
  readonly dewMarginK: number | null;
  /** How far the day's readings went to and fro, beyond their range [decades]; null where the day has too few. */
  readonly toAndFro: number | null;
}

/**
 * The lowest reading of each local morning, whether it was wet, and how far the day recovered.
 *
 * @param readings  ascending by instant; what is no resistance above zero is passed over
 */
export function morningsOf(
  readings: readonly HistoryReading[],
  timezone: string,
  ends: InstrumentEnds,
): readonly Morning[] {
  const calendar = localCalendar(timezone);
  const mornings: Morning[] = [];
  let day = Number.NaN;
  let today: { reading: HistoryReading; minuteOfDay: number }[] = [];
  const close = (): void => {
    if (today.length > 0) mornings.push(morningOf(day, today, ends));
    today = [];
  };
  for (const reading of readings) {
    if (!(reading.ohms > 0)) continue;
    const moment = calendar(reading.at);
    if (moment.day !== day) close();
    day = moment.day;
    today.push({ reading, minuteOfDay: moment.minuteOfDay });
  }
  close();
  return mornings;
}

interface Timed {
  readonly reading: HistoryReading;
  readonly minuteOfDay: number;
}

function morningOf(day: number, readings: readonly Timed[], ends: InstrumentEnds): Morning {
  const beforeNoon = readings.filter(({ minuteOfDay }) => minuteOfDay < NOON);
  const considered = beforeNoon.length > 0 ? beforeNoon : readings.slice(0, 1);
  let at = 0;
  considered.forEach(({ reading }, i) => {
    if (reading.ohms < considered[at]!.reading.ohms) at = i;
  });
  const { reading, minuteOfDay } = considered[at]!;
  const recovery = recoveryOf(readings, considered[at]!, ends);
  const dewPointC = dewPointOf(reading);
  const dewMarginK = dewPointC === null ? null : marginOf(reading, dewPointC);
  return {
    day,
    minuteOfDay,
    lowest: Math.log10(reading.ohms),
    bound: boundOf(reading, ends),
    recovered: recovery?.log10 ?? null,
    recoveredBound: recovery?.bound ?? "measured",
    profile: recovery === null ? null : profileOf(readings),
    ...wetnessOf(reading, dewMarginK, recovery === null ? null : recovery.log10 - Math.log10(reading.ohms)),
    temperatureC: reading.temperatureC ?? null,
    irradianceWm2: reading.irradianceWm2 ?? null,
    depressionK: dewPointC === null ? null : reading.temperatureC! - dewPointC,
    dewMarginK,
    toAndFro: recovery === null ? null : toAndFroOf(readings),
  };
}

function profileOf(readings: readonly Timed[]): NonNullable<Morning["profile"]> {
  const most = readings.reduce((best, { reading }) => Math.max(best, reading.ohms), 0);
  return {
    highest: Math.log10(most),
    first: Math.log10(readings[0]!.reading.ohms),
    last: Math.log10(readings.at(-1)!.reading.ohms),
  };
}

function toAndFroOf(readings: readonly Timed[]): number {
  let way = 0;
  let [least, most] = [Infinity, -Infinity];
  readings.forEach(({ reading: { ohms } }, i) => {
    if (i > 0) way += Math.abs(Math.log10(ohms / readings[i - 1]!.reading.ohms));
    least = Math.min(least, ohms);
    most = Math.max(most, ohms);
  });
  return way - Math.log10(most / least);
}

function boundOf(reading: HistoryReading, { ceilingOhms, floorOhms }: InstrumentEnds): Morning["bound"] {
  if (reading.bound !== undefined) return reading.bound;
  if (ceilingOhms !== null && reading.ohms >= ceilingOhms) return "at-least";
  return floorOhms !== null && reading.ohms <= floorOhms ? "at-most" : "measured";
}

/** The highest reading of the day, where the day was followed long enough to have a shape. */
function recoveryOf(
  readings: readonly Timed[],
  lowest: Timed,
  ends: InstrumentEnds,
): { readonly log10: number; readonly bound: "measured" | "at-least" } | null {
  const span = readings.at(-1)!.minuteOfDay - readings[0]!.minuteOfDay;
  if (readings.length < SHAPE_READINGS || span < SHAPE_MINUTES) return null;
  let best = lowest.reading;
  for (const { reading, minuteOfDay } of readings)
    if (minuteOfDay >= lowest.minuteOfDay && reading.ohms > best.ohms) best = reading;
  const bound = boundOf(best, ends) === "at-least" ? "at-least" : "measured";
  return { log10: Math.log10(best.ohms), bound };
}

/** Weather decides where it is noted; else the shape of the morning: dew dries, and the reading recovers with it. */
function wetnessOf(
  reading: HistoryReading,
  dewMarginK: number | null,
  recovery: number | null,
): Pick<Morning, "wetness" | "wetBy"> {
  if (reading.rainMm !== undefined && reading.rainMm >= WET_RAIN_MM) return { wetness: "wet", wetBy: "rain" };
  if (dewMarginK !== null) {
    if (dewMarginK >= DEW_MARGIN_K.wet) return { wetness: "wet", wetBy: "dew" };
    return { wetness: dewMarginK < DEW_MARGIN_K.dry ? "dry" : "unknown", wetBy: null };
  }
  if (recovery === null) return { wetness: "unknown", wetBy: null };
  return recovery >= WET_RECOVERY_DECADES
    ? { wetness: "wet", wetBy: "recovery" }
    : { wetness: "dry", wetBy: null };
}

function dewPointOf({ temperatureC, humidityPercent }: HistoryReading): number | null {
  if (temperatureC === undefined || humidityPercent === undefined || humidityPercent <= 0) return null;
  return dewPoint(temperatureC, humidityPercent);
}

function marginOf({ temperatureC, irradianceWm2 }: HistoryReading, dewPointC: number): number {
  return dewPointC - estimatedSurfaceC(temperatureC!, irradianceWm2);
}
