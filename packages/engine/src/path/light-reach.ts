import type { Light } from "../assess/site.ts";
import type { Provenance, Sourced } from "../provenance.ts";
import type { Candela, Metres } from "../quantity/index.ts";
import { effectiveIntensity, type Scene, sightDistance } from "./light.ts";

const ours = { source: "default of this program", tag: "design choice" } as const;

/** What is taken of a light where nothing is stated, at the unfavourable end. */
export const LIGHT_DEFAULTS = {
  /** A bright small indicator. */
  indicatorCandela: { value: 0.1, source: "data sheets of indicator lamps", tag: "memory" },
  background: { value: "bright-day", ...ours },
  flashSeconds: { value: 0.05, ...ours },
  /** Part of a long-wave red light that an eye without the red receptor takes for light (about 1 man in 100). */
  redToRedBlind: { value: 0.1, source: "luminous efficiency of the red-blind eye at 630 nm", tag: "memory" },
} as const satisfies Readonly<Record<string, Sourced<unknown>>>;

/** How far a light is found, and what had to be assumed to say so. */
export interface LightReach {
  /** Steady intensity that is found as easily. */
  readonly effective: Candela;
  /** Against its brightest surroundings: what decides. */
  readonly metres: Metres;
  readonly background: Scene;
  readonly byBrightDay: Metres;
  readonly byDarkNight: Metres;
  /** For an eye blind to red, against the same surroundings. */
  readonly toRedBlindMetres: Metres;
  readonly assumed: readonly Sourced<string>[];
}

const worded = (value: string, { source, tag }: Provenance): Sourced<string> => ({ value, source, tag });

/** Intensity as stated, or of a round face of the stated luminance: L · π d² / 4; null where neither is. */
export function intensityOf({ intensity, luminance, diameter }: Light): Candela | null {
  if (intensity !== undefined) return intensity;
  if (luminance === undefined || diameter === undefined) return null;
  return ((luminance * Math.PI * diameter ** 2) / 4) as Candela;
}

/**
 * How far a light is found by day and by night, flashing or steady, by people of either colour sight.
 *
 * Illuminance at the eye I/d² against the least that is found against the surroundings, in clear air; a flash counts by
 * Blondel and Rey. The intensity must be that towards the viewer.
 * @returns null where neither the intensity nor luminance and size are stated
 * Source: see LIGHT_THRESHOLDS, effectiveIntensity and LIGHT_DEFAULTS. Check: checks/light-range
 */
export function lightReach(light: Light): LightReach | null {
  const stated = intensityOf(light);
  if (stated === null) return null;
  const { background = LIGHT_DEFAULTS.background.value, flashesPerMinute = 0, flashLength, colour } = light;
  const flashing = flashesPerMinute > 0;
  const flashSeconds = flashLength === undefined ? LIGHT_DEFAULTS.flashSeconds.value : flashLength * 60;
  const effective = flashing ? effectiveIntensity(stated, flashSeconds) : stated;
  const toRedBlind = colour === "red" ? effective * LIGHT_DEFAULTS.redToRedBlind.value : effective;
  return {
    effective,
    metres: sightDistance(effective, background),
    background,
    byBrightDay: sightDistance(effective, "bright-day"),
    byDarkNight: sightDistance(effective, "night"),
    toRedBlindMetres: sightDistance(toRedBlind as Candela, background),
    assumed: [
      ...(light.background === undefined
        ? [worded("the light must be found against bright daylight", LIGHT_DEFAULTS.background)]
        : []),
      ...(flashing && flashLength === undefined
        ? [worded(`a flash lasts ${LIGHT_DEFAULTS.flashSeconds.value} s`, LIGHT_DEFAULTS.flashSeconds)]
        : []),
    ],
  };
}
