import { lookUp, peakAt, WALK, type TableEntry } from "./configuration-likelihood.ts";
import { clampResponse } from "./leakage-clamp.ts";
import type { PlaceClass, Problem } from "./problem.ts";

const SQRT3 = Math.sqrt(3);
const entry: TableEntry = { peak: 0, share: 0, variance: 0 };

/**
 * Likelihood of one (g, Gf) as a parabola in the place's share:
 * ln L = constant − a·share² − b·share. Valid for every place of the class, which is what makes this fast.
 */
export interface Parabola {
  constant: number;
  a: number;
  b: number;
  /** What ln L is at most, wherever the place is: the peaks of the tables, as the squares are never above zero. */
  ceiling: number;
}

/** The leaks of one hypothesis: healthy leakage of a module, the fault [S], and how far leakage may be out of balance. */
export interface Leaks {
  g: number;
  fault: number;
  lopsided: number;
}

export function parabolaAt(
  problem: Problem,
  placeClass: PlaceClass | null,
  g: number,
  fault: number,
  lopsided: number,
  out: Parabola,
): void {
  out.constant = out.a = out.b = out.ceiling = 0;
  const leaks = { g, fault, lopsided };
  for (let c = 0; c < problem.measured.length; c++) addConfiguration(problem, placeClass, c, leaks, out);
  addClamps(problem, placeClass, g, fault, out);
}

export function addConfiguration(
  problem: Problem,
  placeClass: PlaceClass | null,
  c: number,
  leaks: Leaks,
  out: Parabola,
): void {
  const { table, configuration, healthyShare, mismatchVariance } = problem.measured[c]!;
  const holds = placeClass?.contains[c] === 1;
  const healthy = leaks.g * configuration.moduleCount;
  const total = healthy + (holds ? leaks.fault : 0);
  lookUp(table, Math.log(total), entry);
  const { peak, share, variance: ownVariance } = entry;
  // Healthy leakage unlike that of the other parts moves the centroid towards its own.
  const sway = problem.leakageSpread * (healthyShare - share);
  const variance =
    ownVariance + mismatchVariance + (leaks.lopsided ** 2 + sway ** 2) * (healthy / total) ** 2;
  const top =
    0.5 * Math.log(ownVariance / variance) +
    (problem.leakageSpread === 0 ? peak : spreadPeak(problem, c, total, healthy, peak));
  const pull = holds ? leaks.fault / total : 0;
  const rest = (healthyShare * healthy) / total + (holds ? pull * placeClass.offset[c]! : 0) - share;
  const slope = holds ? pull * placeClass.slope[c]! : 0;
  out.ceiling += top;
  out.constant += top - (0.5 * rest * rest) / variance;
  out.a += (0.5 * slope * slope) / variance;
  out.b += (rest * slope) / variance;
}

/** Clamp readings are linear in the place too, so they add to the parabola. */
export function addClamps(
  problem: Problem,
  placeClass: PlaceClass | null,
  g: number,
  fault: number,
  out: Parabola,
): void {
  for (const clamp of problem.clamps) {
    const leaks = placeClass === null ? [] : [{ string: placeClass.string, siemens: fault }];
    const { slopes, rest, variance } = clampResponse(clamp, g, leaks);
    const slope = slopes[0] ?? 0;
    out.constant -= (0.5 * rest * rest) / variance + 0.5 * Math.log(variance / clamp.variance);
    out.a += (0.5 * slope * slope) / variance;
    out.b += (rest * slope) / variance;
  }
}

/** The table's peak smeared over unequal healthy leakage of the parts, three-point Gauss–Hermite. */
function spreadPeak(problem: Problem, c: number, total: number, healthy: number, centre: number): number {
  const measured = problem.measured[c]!;
  const table = measured.table;
  const share = healthy / total;
  if (share * problem.leakageSpread < 0.05 * table.best.sigma) return centre;
  const shift = Math.exp(SQRT3 * problem.leakageSpread);
  const up = peakAt(table, Math.log(total + healthy * (shift - 1)), WALK.above);
  const down = peakAt(table, Math.log(total + healthy * (1 / shift - 1)), WALK.below);
  const top = Math.max(centre, up, down);
  return top + Math.log((4 * Math.exp(centre - top) + Math.exp(up - top) + Math.exp(down - top)) / 6);
}
