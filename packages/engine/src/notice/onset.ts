import type { UtcMinute } from "../sun/sun-times.ts";
import type { Day, Daylight } from "./daylight.ts";
import type { OnsetMix } from "./notice-model.ts";

/** A share of the day's faults, born evenly over a stretch of time. */
export interface OnsetStretch {
  readonly from: UtcMinute;
  readonly to: UtcMinute;
  readonly share: number;
}

/** Stretches that may overlap, cut where one begins or ends and added up: disjoint and in order. */
function disjoint(stretches: readonly OnsetStretch[]): readonly OnsetStretch[] {
  if (stretches.length < 2) return stretches;
  const edges = new Float64Array(2 * stretches.length);
  for (let i = 0; i < stretches.length; i++) {
    edges[2 * i] = stretches[i]!.from;
    edges[2 * i + 1] = stretches[i]!.to;
  }
  edges.sort();
  const cut: OnsetStretch[] = [];
  for (let i = 1; i < edges.length; i++) {
    const from = edges[i - 1]!;
    const to = edges[i]!;
    let share = 0;
    for (const stretch of stretches)
      if (stretch.from <= from && to <= stretch.to)
        share += (stretch.share * (to - from)) / (stretch.to - stretch.from);
    if (share > 0) cut.push({ from, to, share });
  }
  return cut;
}

/**
 * When the faults of one day are born: the wet ones around sunrise, some in daylight, the rest at any time.
 *
 * Where the sun does not rise, the shares tied to it are born at any time instead.
 * @returns stretches that may overlap; their shares add up to 1
 */
function onsetsOfDay({ midnight, nextMidnight, light, start }: Day, mix: OnsetMix): readonly OnsetStretch[] {
  const stretches: OnsetStretch[] = [];
  const dewMin = mix.dewBeforeSunriseMin + mix.dewAfterSunriseMin;
  const dawnWetShare = start !== null && light !== null && dewMin > 0 ? mix.dawnWetShare : 0;
  const daylightShare = light !== null ? mix.daylightShare : 0;
  if (light !== null && dawnWetShare > 0) {
    const from = light.from - mix.dewBeforeSunriseMin;
    stretches.push({ from, to: from + dewMin, share: dawnWetShare });
  }
  if (light !== null && daylightShare > 0)
    stretches.push({ from: light.from, to: light.to, share: daylightShare });
  const rest = 1 - dawnWetShare - daylightShare;
  if (rest > 1e-12) stretches.push({ from: midnight, to: nextMidnight, share: rest });
  return stretches;
}

const SIX_HOURS = 360;

/** Where the windows of two days meet: at the start of the inverter, or at six where it does not start. */
const meeting = ({ start, midnight }: Day): UtcMinute => start ?? midnight + SIX_HOURS;

/**
 * When the faults are born between the start of the day before and the start of a day.
 *
 * These windows tile the year as days do, and a start check detects all faults of one window at one instant. The shares
 * add up to about 1: a window lacks the dew of an earlier sunrise and has that of a later one.
 * @returns disjoint stretches in order
 */
export function onsetsOfWindow(dayNumber: number, { day }: Daylight, mix: OnsetMix): readonly OnsetStretch[] {
  const from = meeting(day(dayNumber - 1));
  const to = meeting(day(dayNumber));
  const clipped: OnsetStretch[] = [];
  for (let number = dayNumber - 1; number <= dayNumber + 1; number++) {
    for (const stretch of onsetsOfDay(day(number), mix)) {
      const begin = Math.max(from, stretch.from);
      const end = Math.min(to, stretch.to);
      const share = (stretch.share * (end - begin)) / (stretch.to - stretch.from);
      if (end > begin) clipped.push({ from: begin, to: end, share });
    }
  }
  return disjoint(clipped);
}
