import type { Declined } from "./declined.ts";
import type { Verdict } from "./finding.ts";
import type { Fit } from "./fit.ts";
import type { Place } from "./places.ts";
import type { Posterior } from "./posterior.ts";
import { FAULT_RESISTANCE_OHMS } from "./priors.ts";

/** Probabilities at which the finder commits itself. */
export const COMMIT = {
  located: 0.9,
  noFault: 0.97,
  moreThanOne: 0.8,
  fault: 0.95,
  /** A narrowed finding names at most this many modules' worth of places. */
  narrowedModules: 3,
  credibleLevel: 0.9,
} as const;

export interface Ranked {
  readonly place: Place;
  readonly index: number;
  readonly probability: number;
}

export interface Judgement {
  readonly verdict: Verdict;
  readonly because: string;
}

/** Places by probability, the likeliest first. */
export function rankPlaces(places: readonly Place[], probabilities: ArrayLike<number>): Ranked[] {
  return places
    .map((place, index) => ({ place, index, probability: probabilities[index] ?? 0 }))
    .sort((a, b) => b.probability - a.probability);
}

/** The smallest set of likeliest places that holds at least the level. */
export function credibleSet(ranked: readonly Ranked[], level: number = COMMIT.credibleLevel): Ranked[] {
  let sum = 0;
  const set: Ranked[] = [];
  for (const candidate of ranked) {
    if (sum >= level) break;
    set.push(candidate);
    sum += candidate.probability;
  }
  return set;
}

/** What the judgement needs beside the posterior. */
export interface Circumstances {
  readonly fit: Fit;
  readonly declined: Declined | null;
  /** Lower end of the measured insulation [Ω]; 0 where no whole string or circuit was measured. */
  readonly insulationAtLeastOhms: number;
}

export function judge(
  posterior: Posterior,
  ranked: readonly Ranked[],
  circumstances: Circumstances,
): Judgement {
  return unreadable(circumstances) ?? notOneFault(posterior, circumstances) ?? oneFault(posterior, ranked);
}

function unreadable({ declined, fit }: Circumstances): Judgement | null {
  if (declined) return { verdict: "cannot-tell", because: declined.because };
  if (fit.consistent) return null;
  return {
    verdict: "inconsistent",
    because:
      "the readings contradict each other beyond their errors; no place is named until the doubtful one is taken again",
  };
}

function notOneFault(posterior: Posterior, { insulationAtLeastOhms }: Circumstances): Judgement | null {
  const { none, wetness, one, two } = posterior.hypotheses;
  if (two >= COMMIT.moreThanOne)
    return {
      verdict: "more-than-one",
      because: `no single damaged place explains these readings: more than one fault, ${percent(two)}`,
    };
  if (none + wetness >= COMMIT.noFault && insulationAtLeastOhms > FAULT_RESISTANCE_OHMS.max)
    return {
      verdict: "no-fault",
      because: "the insulation as a whole is above 2 MΩ, so that no leak below 2 MΩ can be in it",
    };
  if (none >= COMMIT.noFault)
    return {
      verdict: "no-fault",
      because: `healthy leakage explains the readings: no fault below 2 MΩ, ${percent(none)}`,
    };
  if (none + wetness >= COMMIT.noFault)
    return {
      verdict: "cannot-tell",
      because:
        "leakage spread over the string explains the readings: wetness rather than one damaged place; measure again when it is dry",
    };
  if (one + two < COMMIT.fault)
    return {
      verdict: "cannot-tell",
      because: `a fault is not certain: ${percent(none + wetness)} for healthy or wet leakage alone`,
    };
  return null;
}

function oneFault(posterior: Posterior, ranked: readonly Ranked[]): Judgement {
  const top = ranked[0];
  if (top && top.probability >= COMMIT.located) {
    const { one } = posterior.hypotheses;
    return {
      verdict: "located",
      because: `${top.place.label}: ${percent(top.probability)} if one place is damaged, and that is ${percent(one)}`,
    };
  }
  const set = credibleSet(ranked);
  if (isNarrow(set))
    return {
      verdict: "narrowed",
      because: `${String(set.length)} neighbouring places hold ${percent(COMMIT.credibleLevel)}`,
    };
  return {
    verdict: "cannot-tell",
    because: `${percent(COMMIT.credibleLevel)} is spread over ${String(set.length)} places, too many or too far apart to be named`,
  };
}

/** A share in words; certainty is never claimed to the last digit. */
function percent(share: number): string {
  if (share > 0.999) return "over 99.9 %";
  return `${(100 * share).toFixed(share > 0.99 || share < 0.01 ? 1 : 0)} %`;
}

function isNarrow(set: readonly Ranked[]): boolean {
  const strings = new Set(set.map(({ place }) => place.stringId));
  const positions = set.map(({ place }) => place.at);
  return strings.size === 1 && Math.max(...positions) - Math.min(...positions) <= COMMIT.narrowedModules;
}
