import { seededRandom } from "../../simulate/random.ts";
import type { HistoryReading } from "../reading.ts";
import { type Climate, CLIMATES } from "./climate.ts";
import { SimulatedInstrument } from "./simulated-instrument.ts";
import { Damage } from "./simulated-day.ts";
import { drawArray, type SimulatedArray, type SimulatedTrouble } from "./trouble.ts";
import { type DayWeather, type HalfHour, WeatherMaker } from "./weather.ts";

/**
 * weather  one check a morning, with the weather beside it
 * mornings a check every half hour of the morning, no weather
 * bare     one check a morning, nothing else
 */
export type RecordStyle = "weather" | "mornings" | "bare";

export interface SimulateHistoryOptions {
  readonly trouble: SimulatedTrouble;
  readonly seed: number;
  /** Local day on which the record begins, days since 1970-01-01. */
  readonly firstDay: number;
  readonly days: number;
  /** Minutes that local time is ahead of UTC, the year round. */
  readonly offsetMin: number;
  readonly climate?: Climate;
  readonly style?: RecordStyle;
}

export interface SimulatedHistory {
  readonly readings: readonly HistoryReading[];
  /** The truth behind them. */
  readonly array: SimulatedArray;
  /** Dry resistance at 25 °C of every day [Ω]. */
  readonly dryOhms: Float64Array;
}

const DAY_MS = 86_400_000;
/** The morning's check: 06:30, when the inverter starts. */
const START_HALF_HOUR = 13;
const LAST_HALF_HOUR = 23;

/** Days that are worked out in one step: some thousandths of a second. */
const A_STEP_DAYS = 60;

/**
 * An invented insulation record whose truth is known.
 *
 * Leaks add as conductances: a bulk with an activation energy, a surface film of dew and rain, and the damage; corrosion
 * follows damp and warmth. None of it is the model that histories are read with.
 * The same options give the same record everywhere.
 */
export function simulateHistory(options: SimulateHistoryOptions): SimulatedHistory {
  const steps = simulateInSteps(options);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

/**
 * `simulateHistory` in short steps, for whoever has to see to something else between them.
 *
 * @returns yields the readings of two months at a time, and in the end the whole record
 */
export function* simulateInSteps(
  options: SimulateHistoryOptions,
): Generator<readonly HistoryReading[], SimulatedHistory> {
  const { trouble, seed, firstDay, days, style = "weather" } = options;
  const random = seededRandom(seed);
  const array = drawArray(trouble, days, random);
  const makers = {
    weather: new WeatherMaker(options.climate ?? CLIMATES["mild island"], random),
    damage: new Damage(array, random),
    instrument: new SimulatedInstrument(array, random),
  };
  const missing = drawMissing(days, random);
  const dryOhms = new Float64Array(days);
  const readings: HistoryReading[] = [];
  let told = 0;
  for (let day = 0; day < days; day++) {
    if (day > 0 && day % A_STEP_DAYS === 0) {
      yield readings.slice(told);
      told = readings.length;
    }
    const weather = makers.weather.next(dayOfYear(firstDay + day));
    makers.damage.live(day, weather);
    makers.instrument.live(day);
    dryOhms[day] = makers.damage.dryOhms(day);
    if (missing(day)) continue;
    const last = style === "mornings" ? LAST_HALF_HOUR : START_HALF_HOUR;
    for (let k = START_HALF_HOUR; k <= last; k++) {
      const now = weather.halfHours[k]!;
      const ohms = makers.instrument.shows(day, 1 / makers.damage.conductance(day, now));
      const at = (firstDay + day) * DAY_MS + (k * 30 - options.offsetMin) * 60_000;
      readings.push(style === "weather" ? { at, ohms, ...noted(now, weather, k) } : { at, ohms });
    }
  }
  yield readings.slice(told);
  return { readings, array, dryOhms };
}

function dayOfYear(dayNumber: number): number {
  return (dayNumber % 365.25) + 1;
}

/** The weather as a station writes it down: rounded, the rain of the night so far. */
function noted(now: HalfHour, { halfHours }: DayWeather, k: number): Partial<HistoryReading> {
  const rain = halfHours.slice(0, k + 1).reduce((sum, one) => sum + one.rainMm, 0);
  return {
    temperatureC: Math.round(now.temperatureC * 10) / 10,
    humidityPercent: Math.round(now.humidityPercent),
    rainMm: Math.round(rain * 5) / 5,
    irradianceWm2: Math.round(now.irradianceWm2),
  };
}

/** Single mornings that are missing, and up to three longer gaps. */
function drawMissing(days: number, random: { uniform: () => number }): (day: number) => boolean {
  const gaps = Array.from({ length: Math.floor(random.uniform() * 4) }, () => {
    const from = Math.floor(random.uniform() * days);
    return { from, to: from + 3 + Math.floor(random.uniform() * 30) };
  });
  return (day) => random.uniform() < 0.02 || gaps.some(({ from, to }) => day >= from && day < to);
}
