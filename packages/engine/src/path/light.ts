import type { Sourced } from "../provenance.ts";
import type { Light } from "../assess/site.ts";
import type { Candela, Hertz, Lux, Metres } from "../quantity/index.ts";

export type Scene = NonNullable<Light["background"]>;

/**
 * Illuminance at the eye at which a point of light is found against its background [lx], in clear air.
 *
 * Marine signalling takes 0.2 µlx for a dark night and about 1 mlx for a bright day; the two between are interpolated.
 */
export const LIGHT_THRESHOLDS: Readonly<Record<Scene, Sourced<Lux>>> = {
  "bright-day": { value: 1e-3 as Lux, source: "marine signalling practice, daylight", tag: "memory" },
  "overcast-or-indoors": { value: 1e-4 as Lux, source: "between day and twilight", tag: "design choice" },
  twilight: { value: 1e-5 as Lux, source: "between day and night", tag: "design choice" },
  night: { value: 2e-7 as Lux, source: "marine signalling practice, dark night", tag: "memory" },
};

/** Illuminance at the eye from a light at a distance: I / d² [lx]. */
export function illuminanceAt(intensity: Candela, distance: Metres): Lux {
  return (intensity / distance ** 2) as Lux;
}

/** Farthest distance at which a light is found: √(I / threshold) [m], clear air. */
export function sightDistance(intensity: Candela, scene: Scene): Metres {
  return Math.sqrt(intensity / LIGHT_THRESHOLDS[scene].value) as Metres;
}

/** Time constant of the eye for flashes [s] (Blondel and Rey, memory). */
const EYE_S = 0.2;

/** Steady intensity that is found as easily as a flash of a duration: I · t / (t + 0.2 s). */
export function effectiveIntensity(intensity: Candela, flashSeconds: number): Candela {
  return ((intensity * flashSeconds) / (flashSeconds + EYE_S)) as Candela;
}

/** Flash rates of IEC 60073 (memory), flashes a minute, ends included. */
export const FLASH_RATES: Readonly<Record<"slow" | "normal", Sourced<readonly [number, number]>>> = {
  slow: { value: [24, 48], source: "IEC 60073", tag: "memory" },
  normal: { value: [84, 168], source: "IEC 60073", tag: "memory" },
};

export interface FlashRate {
  readonly hertz: Hertz;
  readonly kind: "slow" | "normal" | "neither";
}

/** Flashes a minute as a frequency, and whether they are a slow or a normal flash. */
export function flashRate(perMinute: number): FlashRate {
  const within = (kind: "slow" | "normal"): boolean => {
    const [least, most] = FLASH_RATES[kind].value;
    return perMinute >= least && perMinute <= most;
  };
  const kind = within("slow") ? "slow" : within("normal") ? "normal" : "neither";
  return { hertz: (perMinute / 60) as Hertz, kind };
}
