import type { UtcMinute } from "../sun/sun-times.ts";
import { COARSE_LAGS, FINE_LAGS, HORIZON_MIN } from "./lags.ts";
import type { SignalPlan } from "./signal-plan.ts";
import { addCombined, followDetection, signalSurvival } from "./signal-survival.ts";

/** The golden section: places the births of one day between those of the days before. */
const GOLDEN = (Math.sqrt(5) - 1) / 2;
const KEPT_DETECTIONS = 4;
/** Onsets at one instant are taken as spread over a blink. */
const LEAST_WIDTH_MIN = 1e-3;

const HALF_STEPS = FINE_LAGS.map((lag, k) => (lag - (FINE_LAGS[k - 1] ?? 0)) / 2);

/** ∫ of the survival from before the detection, where it is 1, to each fine lag; reference 0 at the detection. */
function integrate({ survival, integral }: AfterDetection): void {
  for (let k = 1; k < survival.length; k++) {
    integral[k] = integral[k - 1]! + HALF_STEPS[k]! * (survival[k]! + survival[k - 1]!);
  }
}

interface AfterDetection {
  readonly survival: Float64Array;
  readonly integral: Float64Array;
}

/** Survivals after one detection on the fine lags; the last few are kept, as neighbouring onsets share a detection. */
function detectionFollower(plan: SignalPlan): (at: UtcMinute) => readonly AfterDetection[] {
  const signals = signalSurvival(FINE_LAGS, plan);
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
    followDetection(at, signals);
    slot.at = at;
    slot.afters.forEach((after, c) => {
      after.survival.fill(0);
      addCombined(plan.combinations[c]!, signals, 1, after.survival);
      integrate(after);
    });
    return slot.afters;
  };
}

/** Part of the greatest jump below which a jump is what rounding leaves where two stretches of one density meet. */
const NO_JUMP = 1e-13;

/** Densities of births that jump at the edges of the spreads, as the jump at each edge. */
function jumpsOf(spreads: readonly Spread[]): readonly (readonly [UtcMinute, number])[] {
  const jumps = new Map<UtcMinute, number>();
  let greatest = 0;
  for (const { from, to, share } of spreads) {
    const start = Math.min(from, to - LEAST_WIDTH_MIN);
    const density = share / (to - start);
    greatest = Math.max(greatest, density);
    jumps.set(start, (jumps.get(start) ?? 0) - density);
    jumps.set(to, (jumps.get(to) ?? 0) + density);
  }
  return [...jumps].filter(([, jump]) => Math.abs(jump) > NO_JUMP * greatest);
}

/** For one edge and each coarse lag: the fine lag at or before it since detection, how long past it, and half the part of the step. */
const fineAt = new Int32Array(COARSE_LAGS.length);
const pastFine = new Float64Array(COARSE_LAGS.length);
const halfPart = new Float64Array(COARSE_LAGS.length);

/** Find the coarse lags of an edge among the fine ones; returns how many come before the detection. */
function locate(edgeAfterDetection: number): number {
  let before = 0;
  let i = 0;
  for (let k = 0; k < COARSE_LAGS.length; k++) {
    const lag = COARSE_LAGS[k]! + edgeAfterDetection;
    pastFine[k] = lag;
    if (lag <= 0) {
      before = k + 1;
      continue;
    }
    while (i < FINE_LAGS.length - 2 && FINE_LAGS[i + 1]! <= lag) i++;
    fineAt[k] = i;
    pastFine[k] = lag - FINE_LAGS[i]!;
    halfPart[k] = pastFine[k]! / HALF_STEPS[i + 1]! / 4;
  }
  return before;
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
  const before = locate(edgeAfterDetection);
  for (let c = 0; c < sums.length; c++) {
    const sum = sums[c]!;
    const { survival, integral } = afters[c]!;
    for (let k = 0; k < before; k++) sum[k]! += jump * pastFine[k]!;
    for (let k = before; k < sum.length; k++) {
      const i = fineAt[k]!;
      const here = survival[i]!;
      const mean = here + (survival[i + 1]! - here) * halfPart[k]!;
      sum[k]! += jump * (integral[i]! + pastFine[k]! * mean);
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
  const signals = signalSurvival(COARSE_LAGS, plan);
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
      followDetection(from + ((i + phase) * (to - from)) / steps, signals);
      plan.combinations.forEach((combination, c) => {
        addCombined(combination, signals, share / steps, survival[c]!);
      });
    }
  };
  return { survival, addUndetected, addDetectedTogether, addDetectedAtOnset };
}
