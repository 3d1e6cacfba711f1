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
function integrated(survival: Float64Array): Float64Array {
  const integral = new Float64Array(survival.length);
  for (let k = 1; k < survival.length; k++) {
    const width = FINE_LAGS[k]! - FINE_LAGS[k - 1]!;
    integral[k] = integral[k - 1]! + (width * (survival[k]! + survival[k - 1]!)) / 2;
  }
  return integral;
}

interface AfterDetection {
  readonly survival: Float64Array;
  readonly integral: Float64Array;
}

function integralAt({ survival, integral }: AfterDetection, lag: number): number {
  if (lag <= 0) return lag;
  const k = fineIndex(Math.min(lag, HORIZON_MIN));
  const past = lag - FINE_LAGS[k]!;
  if (k + 1 >= FINE_LAGS.length) return integral[k]! + past * survival[k]!;
  const slope = (survival[k + 1]! - survival[k]!) / (FINE_LAGS[k + 1]! - FINE_LAGS[k]!);
  return integral[k]! + past * (survival[k]! + (slope * past) / 2);
}

/** Survivals after one detection on the fine lags; the last few are kept, as neighbouring onsets share a detection. */
function detectionFollower(plan: SignalPlan): (at: UtcMinute) => readonly AfterDetection[] {
  const scratch = survivalScratch(FINE_LAGS, plan);
  const kept = new Map<UtcMinute, readonly AfterDetection[]>();
  return (at) => {
    const already = kept.get(at);
    if (already) return already;
    followDetection(at, plan, scratch);
    const fresh = plan.combinations.map((combination) => {
      const survival = new Float64Array(FINE_LAGS.length);
      combinedSurvival(combination, scratch, survival);
      return { survival, integral: integrated(survival) };
    });
    if (kept.size >= KEPT_DETECTIONS) kept.delete(kept.keys().next().value!);
    kept.set(at, fresh);
    return fresh;
  };
}

/** Add share × the mean, over onsets spread evenly from `from` to `to`, of the survival of faults detected at `at`. */
function addMean(sum: Float64Array, after: AfterDetection, spread: Spread, at: UtcMinute): void {
  const { to, share } = spread;
  const from = Math.min(spread.from, to - LEAST_WIDTH_MIN);
  for (let k = 0; k < sum.length; k++) {
    // An onset at τ leaves the lag h − (at − τ) after detection, so the mean over τ is a mean of the survival.
    const lag = COARSE_LAGS[k]! - at;
    sum[k]! += (share * (integralAt(after, lag + to) - integralAt(after, lag + from))) / (to - from);
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
  /** Faults all detected at one instant. */
  readonly addDetectedTogether: (spread: Spread, at: UtcMinute) => void;
  /** Faults each detected when it is born. */
  readonly addDetectedAtOnset: (spread: Spread) => void;
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
  let phase = 0.5;

  const addUndetected = (share: number): void => {
    for (const sum of survival) for (let k = 0; k < sum.length; k++) sum[k]! += share;
  };
  const addDetectedTogether = (spread: Spread, at: UtcMinute): void => {
    if (at - spread.to >= HORIZON_MIN) {
      addUndetected(spread.share);
      return;
    }
    follow(at).forEach((after, c) => {
      addMean(survival[c]!, after, spread, at);
    });
  };
  const addDetectedAtOnset = ({ from, to, share }: Spread): void => {
    const steps = Math.max(1, Math.ceil((to - from) / directStepMin));
    phase = (phase + GOLDEN) % 1;
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
