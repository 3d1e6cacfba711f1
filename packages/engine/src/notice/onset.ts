import type { UtcMinute } from "../sun/sun-times.ts";
import type { Day } from "./daylight.ts";
import type { OnsetMix } from "./notice-model.ts";

/** A share of the day's faults, born evenly over a stretch of time. */
export interface OnsetStretch {
  readonly from: UtcMinute;
  readonly to: UtcMinute;
  readonly share: number;
}

/**
 * When the faults of one day are born: the wet ones around sunrise, some in daylight, the rest at any time.
 *
 * Where the sun does not rise, the shares tied to it are born at any time instead. The shares add up to 1.
 */
export function onsetsOfDay(
  { midnight, nextMidnight, light, start }: Day,
  mix: OnsetMix,
): readonly OnsetStretch[] {
  const stretches: OnsetStretch[] = [];
  const dawnWetShare = start !== null && light !== null ? mix.dawnWetShare : 0;
  const daylightShare = light !== null ? mix.daylightShare : 0;
  if (light !== null && dawnWetShare > 0) {
    const from = light.from - mix.dewBeforeSunriseMin;
    stretches.push({ from, to: light.from + mix.dewAfterSunriseMin, share: dawnWetShare });
  }
  if (light !== null && daylightShare > 0)
    stretches.push({ from: light.from, to: light.to, share: daylightShare });
  const rest = 1 - dawnWetShare - daylightShare;
  if (rest > 1e-12) stretches.push({ from: midnight, to: nextMidnight, share: rest });
  return stretches;
}
