import type { Explanation } from "./level-shape.ts";
import type { Signs } from "./signs.ts";
import type { SoundReadings } from "./sound-readings.ts";

/** What kind of trouble a history shows. */
export type Trouble =
  | "healthy"
  | "moisture-driven"
  | "hard"
  | "progressive"
  | "intermittent"
  | "sensor"
  | "too-little-data";

export type Weighed = Exclude<Trouble, "too-little-data">;

/**
 * Weights of evidence for each kind, on a logarithmic scale; healthy is the measure at 0. Each is a ramp from nothing to a
 * limit, so that no single sign makes certain. The places of the ramps are design choices, set on simulated histories
 * and measured on others (bench/history-accuracy).
 */
export function weightsOf(signs: Signs, sound: SoundReadings): Readonly<Record<Weighed, number>> {
  const sensor = sensorWeight(signs, sound);
  // What a broken instrument writes says little of the array.
  const doubt = Math.max(0, sensor);
  const lows = lowMornings(signs);
  return {
    healthy: 0,
    "moisture-driven": lows.moisture - doubt,
    intermittent: lows.intermittent - doubt,
    hard: hardWeight(signs) - doubt,
    progressive: progressiveWeight(signs) - doubt,
    sensor,
  };
}

const LIMIT = 6;

/** −limit at `nothing` or less, +limit at `all` or more, straight between. What was not measured says nothing for. */
function ramp(value: number, nothing: number, all: number, limit = LIMIT): number {
  if (Number.isNaN(value)) return -limit;
  const share = (value - nothing) / (all - nothing);
  return limit * Math.min(1, Math.max(-1, 2 * share - 1));
}

/** How sure it is that the level dropped, whichever way. */
function dropWeight({ before, after, gain, sigma }: Explanation): number {
  const drop = before - after;
  return Math.min(ramp(drop, 0.1, 0.4), ramp(drop / Math.max(0.05, sigma), 1, 3.4), ramp(gain, 0, 16));
}

function hardWeight({ shape: { steps, slope } }: Signs): number {
  const sudden = ramp(steps.gain - Math.max(0, slope.gain), -10, 20);
  return Math.min(dropWeight(steps), ramp(steps.before - steps.after, 0.3, 0.8)) + Math.min(0, sudden);
}

function progressiveWeight({ shape: { steps, slope }, seasonUnknown }: Signs): number {
  const gradual = ramp(Math.max(0, slope.gain) - steps.gain, -45, 10);
  // Insulation swings by some tenths of a decade with the seasons.
  const beyondSeason = seasonUnknown ? ramp(slope.before - slope.after, 0.4, 0.9) : LIMIT;
  return Math.min(dropWeight(slope), beyondSeason) + Math.min(0, gradual);
}

function sensorWeight(signs: Signs, { zeros, given }: SoundReadings): number {
  const { slips, lowShare, lowSpread, halfLow, equalRun, highShare, toAndFro } = signs;
  const graded =
    signs.present.dry >= 10
      ? ramp(signs.dryScatter, 0.08, 0.24)
      : Math.min(ramp(lowShare.unknown, 0.02, 0.1), ramp(halfLow, 0.05, 0.35));
  // Where days have several readings, noise shows as going to and fro within them.
  const scattered = Number.isNaN(toAndFro) ? Math.min(ramp(lowSpread, 0.12, 0.32), graded) : -LIMIT;
  const slipped = slips.spells > 0 ? ramp(slips.meanLength, 3, 10) : -LIMIT;
  const followsWater = signs.deepShare.wet > 0.1 ? Math.max(0, -towardsContact(signs)) : 0;
  return Math.max(
    ramp(zeros / Math.max(1, given), 0.005, 0.05),
    ramp(equalRun, 6, 14),
    ramp(toAndFro, 0.7, 2),
    scattered,
    Math.max(Math.min(ramp(highShare, 0.04, 0.16), ramp(lowSpread, 0.1, 0.25)), slipped) - 2 * followsWater,
  );
}

/**
 * Whether low mornings come with water (negative) or without (positive). With wetness known: how much rarer deep lows are
 * on dry mornings. Without: water leaves graded lows, a contact the same low each time.
 */
function towardsContact({ present, deepShare, lowSpread }: Signs): number {
  const known = present.wet >= 5 && present.dry >= 10;
  if (known) return ramp(Math.log((deepShare.dry + 0.01) / (deepShare.wet + 0.01)), -1.9, -0.1, 5);
  return Number.isNaN(lowSpread) ? 0 : ramp(lowSpread, 0.24, 0.08, 3);
}

function lowMornings(signs: Signs): { readonly moisture: number; readonly intermittent: number } {
  const { present, deepShare } = signs;
  const seen = present.wet + present.dry + present.unknown;
  const deep =
    (deepShare.wet * present.wet + deepShare.dry * present.dry + deepShare.unknown * present.unknown) /
    Math.max(1, seen);
  const contact = towardsContact(signs);
  const onset = signs.wetDepth - signs.wetDepthBefore;
  const opened = present.wet < 10 ? -LIMIT : Math.min(ramp(onset, 0.1, 0.5), ramp(signs.wetDepth, 0.4, 0.9));
  // By shape alone a morning of steady rain passes for dry.
  const [few, many] = signs.weatherKnown ? [0, 0.03] : [0.03, 0.09];
  const dryDeep = present.dry < 10 ? -LIMIT : ramp(deepShare.dry, few, many);
  return {
    moisture: Math.max(ramp(deep, 0, 0.08), opened) - Math.max(0, contact),
    intermittent:
      (signs.weatherKnown
        ? Math.max(ramp(deep, 0, 0.05), dryDeep)
        : Math.min(ramp(deep, 0, 0.05), rainless(signs, dryDeep))) + Math.min(0, contact),
  };
}

/** Without any dry mornings to go by, their share decides nothing. */
function rainless({ present }: Signs, dryDeep: number): number {
  return present.dry < 10 ? LIMIT : dryDeep;
}
