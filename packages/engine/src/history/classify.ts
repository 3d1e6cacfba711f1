import type { Morning } from "./mornings.ts";
import type { Signs } from "./signs.ts";
import type { SoundReadings } from "./sound-readings.ts";
import { type Trouble, type Weighed, weightsOf } from "./weigh.ts";

/** Mornings and days that a verdict needs at least [design choice]. */
export const LEAST_MORNINGS = 30;
const LEAST_SPAN_DAYS = 28;
/** Softens weights into probabilities; set so that stated and found shares agree on simulated histories. */
const SOFTNESS = 0.45;
/** Share kept for what no kind here describes. */
const RESERVE = 0.02;

export interface Classification {
  readonly verdict: Trouble;
  /** Of each kind; they add up to one. */
  readonly probabilities: Readonly<Record<Trouble, number>>;
}

const NONE: Record<Trouble, number> = {
  healthy: 0,
  "moisture-driven": 0,
  hard: 0,
  progressive: 0,
  intermittent: 0,
  sensor: 0,
  "too-little-data": 0,
};

/** The likeliest kind of trouble, and how sure it is. Too few mornings give no verdict, whatever they show. */
export function classify(
  mornings: readonly Morning[],
  signs: Signs | null,
  sound: SoundReadings,
): Classification {
  const span = (mornings.at(-1)?.day ?? 0) - (mornings[0]?.day ?? 0);
  if (signs === null || mornings.length < LEAST_MORNINGS || span < LEAST_SPAN_DAYS)
    return { verdict: "too-little-data", probabilities: { ...NONE, "too-little-data": 1 } };
  const weights = Object.entries(weightsOf(signs, sound)) as [Weighed, number][];
  const most = Math.max(...weights.map(([, weight]) => weight));
  const masses = weights.map(([kind, weight]) => [kind, Math.exp(SOFTNESS * (weight - most))] as const);
  const total = masses.reduce((sum, [, mass]) => sum + mass, 0);
  const probabilities = { ...NONE };
  for (const [kind, mass] of masses)
    probabilities[kind] = ((1 - RESERVE) * mass) / total + RESERVE / masses.length;
  const verdict = weights.toSorted((a, b) => b[1] - a[1])[0]![0];
  return { verdict, probabilities };
}
