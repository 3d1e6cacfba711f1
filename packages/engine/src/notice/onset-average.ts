import type { UtcMinute } from "../sun/sun-times.ts";
import { COARSE_LAGS, FINE_LAGS, fineIndex, HORIZON_MIN } from "./lags.ts";
import type { SignalPlan } from "./signal-plan.ts";
import { combinedSurvival, followDetection, survivalScratch } from "./signal-survival.ts";

/** The golden section: places the births of one day between those of the days before. */
const GOLDEN = (Math.sqrt(5) - 1) / 2;
const KEPT_DETECTIONS = 4;
/** Onsets at one instant are taken as spread over a blink. */
const LEAST_WIDTH_MIN = 1e-3;

/** ∫ of the survival from before the detection, where it is 1, to each fine lag; reference 0 at the detection. */
function integrate({ survival, integral }: AfterDetection): void {
  for (let k = 1; k < survival.length; k++) {
    const width = FINE_LAGS[k]! - FINE_LAGS[k - 1]!;
    integral[k] = integral[k - 1]! + (width * (survival[k]! + survival[k - 1]!)) / 2;
  }
}

interface AfterDetection {
  readonly survival: Float64Array;
  readonly integral: Float64Array;
}

/** Survivals after one detection on the fine lags; the last few are kept, as neighbouring onsets share a detection. */
function detectionFollower(plan: SignalPlan): (at: UtcMinute) => readonly AfterDetection[] {
  const scratch = survivalScratch(FINE_LAGS, plan);
  const fresh = (): AfterDetection => ({
    survival: new Float64Array(FINE_LAGS.length),
    integral: new Float64Array(FINE_LAGS.length),
  });
  const kept = Array.from({ length: KEPT_DETECTIONS }, () => ({
    at: NaN,
    afters: plan.combinations.map(fresh),
  }));
  let oldest = 0;
  return (at) => {
    const already = kept.find((one) => one.at === at);
    if (already) return already.afters;
    const slot = kept[oldest]!;
    oldest = (oldest + 1) % KEPT_DETECTIONS;
    followDetection(at, plan, scratch);
    slot.at = at;
    slot.afters.forEach((after, c) => {
      combinedSurvival(plan.combinations[c]!, scratch, after.survival);
      integrate(after);
    });
    return slot.afters;
  };
}

/** Densities of births that jump at the edges of the spreads, as the jump at each edge. */
function jumpsOf(spreads: readonly Spread[]): ReadonlyMap<UtcMinute, number> {
  const jumps = new Map<UtcMinute, number>();
  for (const { from, to, share } of spreads) {
    const start = Math.min(from, to - LEAST_WIDTH_MIN);
    const density = share / (to - start);
    jumps.set(start, (jumps.get(start) ?? 0) - density);
    jumps.set(to, (jumps.get(to) ?? 0) + density);
  }
  return jumps;
}

/**
 * Add, for one edge of the density of births, its part of the survival since onset: an onset at τ leaves the lag
 * h − (at − τ) after detection, so the mean over onsets is a difference of integrals of the survival after detection.
 */
function addEdge(
  sums: readonly Float64Array[],
  afters: readonly AfterDetection[],
  edgeAfterDetection: number,
  jump: number,
): void {
  for (let k = 0; k < COARSE_LAGS.length; k++) {
    const lag = COARSE_LAGS[k]! + edgeAfterDetection;
    if (lag <= 0) {
      for (const sum of sums) sum[k]! += jump * lag;
      continue;
    }
    const i = Math.min(fineIndex(lag), FINE_LAGS.length - 2);
    const past = lag - FINE_LAGS[i]!;
    const part = past / (FINE_LAGS[i + 1]! - FINE_LAGS[i]!) / 2;
    for (let c = 0; c < sums.length; c++) {
      const { survival, integral } = afters[c]!;
      const here = survival[i]!;
      sums[c]![k]! += jump * (integral[i]! + past * (here + (survival[i + 1]! - here) * part));
    }
  }
}

/** A share of all faults, born evenly over a stretch of time. */
export interface Spread {
  readonly from: UtcMinute;
  readonly to: UtcMinute;
  readonly share: number;
}

/** Gathers the survival since onset, averaged over onsets, of several combinations of channels at the coarse lags. */
export interface OnsetAverage {
  /** Faults all detected at one instant, after they are born. */
  readonly addDetectedTogether: (spreads: readonly Spread[], at: UtcMinute) => void;
  /** Faults each detected when it is born. */
  readonly addDetectedAtOnset: (spread: Spread, dayNumber: number) => void;
  /** Faults that nothing detects. */
  readonly addUndetected: (share: number) => void;
  /** Survival at the coarse lags, one array a combination. */
  readonly survival: readonly Float64Array[];
}

/**
 * @param directStepMin  step in which faults detected at their birth are followed through a day [min]
 */
export function onsetAverage(plan: SignalPlan, directStepMin: number): OnsetAverage {
  const survival = plan.combinations.map(() => new Float64Array(COARSE_LAGS.length));
  const coarse = survivalScratch(COARSE_LAGS, plan);
  const coarseSurvival = new Float64Array(COARSE_LAGS.length);
  const follow = detectionFollower(plan);

  const addUndetected = (share: number): void => {
    for (const sum of survival) for (let k = 0; k < sum.length; k++) sum[k]! += share;
  };
  const addDetectedTogether = (spreads: readonly Spread[], at: UtcMinute): void => {
    const soon = spreads.filter(({ to }) => at - to < HORIZON_MIN);
    for (const spread of spreads) if (!soon.includes(spread)) addUndetected(spread.share);
    if (soon.length === 0) return;
    const afters = follow(at);
    for (const [edge, jump] of jumpsOf(soon)) addEdge(survival, afters, edge - at, jump);
  };
  const addDetectedAtOnset = ({ from, to, share }: Spread, dayNumber: number): void => {
    const steps = Math.max(1, Math.ceil((to - from) / directStepMin));
    const phase = (dayNumber * GOLDEN) % 1;
    for (let i = 0; i < steps; i++) {
      followDetection(from + ((i + phase) * (to - from)) / steps, plan, coarse);
      plan.combinations.forEach((combination, c) => {
        combinedSurvival(combination, coarse, coarseSurvival);
        const sum = survival[c]!;
        for (let k = 0; k < sum.length; k++) sum[k]! += (share / steps) * coarseSurvival[k]!;
      });
    }
  };
  return { survival, addUndetected, addDetectedTogether, addDetectedAtOnset };
}
