import { lookUp, type TableEntry } from "./configuration-likelihood.ts";
import { clampResponse } from "./leakage-clamp.ts";
import { faultNodes, healthyNodes } from "./nodes.ts";
import { type ClassEvidence, lnSumExp } from "./one-fault.ts";
import type { Measured, PlaceClass, Problem } from "./problem.ts";

/**
 * Two faults that no configuration separates look exactly like one at their weighted centre, anywhere between them,
 * so their evidence is that of one fault at a place taken from the whole stretch and not only from its junctions.
 */
export function sameClassEvidence({ placeClass, nodes }: ClassEvidence): number {
  const low = placeClass.places[0]!.share;
  const high = placeClass.places[placeClass.places.length - 1]!.share;
  if (high - low < 1e-9) return -Infinity;
  return lnSumExp(nodes.map((node) => node.constant + lnParabolaMean(node.a, node.b, low, high)));
}

/** ln of the mean over x in [low, high] of exp(−a·x² − b·x). */
export function lnParabolaMean(a: number, b: number, low: number, high: number): number {
  if (a < 1e-6) return -b * ((low + high) / 2) - a * ((low + high) / 2) ** 2;
  const centre = -b / (2 * a);
  const scale = Math.sqrt(a);
  const mass = (erf((high - centre) * scale) - erf((low - centre) * scale)) / 2;
  if (mass > 1e-12) return (b * b) / (4 * a) + Math.log(Math.sqrt(Math.PI / a) * mass) - Math.log(high - low);
  // Far outside the stretch: the nearer end carries it.
  const end = centre < low ? low : high;
  return -(a * end + b) * end - Math.log(1 + 2 * scale * Math.abs(end - centre) * scale * (high - low));
}

/** Error function, Abramowitz & Stegun 7.1.26; absolute error below 1.5e-7. */
function erf(x: number): number {
  const t = 1 / (1 + 0.3275911 * Math.abs(x));
  const poly =
    ((((1.061405429 * t - 1.453152027) * t + 1.421413741) * t - 0.284496736) * t + 0.254829592) * t;
  const value = 1 - poly * Math.exp(-x * x);
  return x < 0 ? -value : value;
}

const COARSE_POINTS = 12;
const NEGLIGIBLE = 25;
/** What lies further below adds less than 1e-13 of the evidence: ten thousand such terms leave nine digits of it as they are. */
const OUT_OF_REACH = 30;
/** e⁻⁴⁰ is less than the last digit of a sum of 144. */
const UNSEEN = -40;

/**
 * Evidence of one fault in each of two classes, integrated over both resistances, both places, healthy leakage.
 *
 * @param matters  ln evidence from which on it matters; what lies far below is left out
 */
export function crossClassEvidence(
  problem: Problem,
  first: PlaceClass,
  second: PlaceClass,
  matters: number,
): number {
  const neither = Uint8Array.from(first.contains, (held, c) =>
    held === 1 || second.contains[c] === 1 ? 1 : 0,
  );
  const onlyFirst = first.contains.map((held, c) => (held === 1 && second.contains[c] === 0 ? 1 : 0));
  const onlySecond = second.contains.map((held, c) => (held === 1 && first.contains[c] === 0 ? 1 : 0));
  const healthy = healthyNodes(problem, neither);
  const firstFaults = faultNodes(problem, onlyFirst, 1.5);
  const secondFaults = faultNodes(problem, onlySecond, 1.5);
  const pair = pairOf(problem, first, second);
  const plane: Plane = { constant: 0, xx: 0, yy: 0, xy: 0, x: 0, y: 0 };
  const leaks: PairLeaks = { g: 0, first: 0, second: 0 };
  const terms: number[] = [];
  let top = matters;
  const stride = Math.max(1, Math.floor(healthy.ln.length / 24));
  const lnStride = Math.log(stride);
  for (let i = 0; i < healthy.ln.length; i += stride) {
    const g = Math.exp(healthy.ln[i]!);
    const firsts = firstFaults(g);
    const seconds = secondFaults(g);
    const secondSiemens = seconds.ln.map(Math.exp);
    leaks.g = g;
    for (let j = 0; j < firsts.ln.length; j++) {
      leaks.first = Math.exp(firsts.ln[j]!);
      for (let k = 0; k < seconds.ln.length; k++) {
        const lnPrior = healthy.lnWeight[i]! + lnStride + firsts.lnWeight[j]! + seconds.lnWeight[k]!;
        leaks.second = secondSiemens[k]!;
        if (!planeAt(pair, leaks, top - NEGLIGIBLE - lnPrior, plane)) continue;
        if (plane.constant + lnPrior + lnPlaneBound(plane) < top - NEGLIGIBLE) continue;
        const term =
          plane.constant +
          lnPrior +
          lnPlaneMean(plane, pair.grid, top - OUT_OF_REACH - plane.constant - lnPrior);
        if (term > top) top = term;
        if (term > -Infinity) terms.push(term);
      }
    }
  }
  return lnSumExp(terms);
}

/** Two classes with what does not change while their leaks are tried. */
interface Pair {
  readonly problem: Problem;
  readonly first: PlaceClass;
  readonly second: PlaceClass;
  readonly grid: { readonly first: CoarseGrid; readonly second: CoarseGrid };
  /** Configurations, narrowest needle first, and after each the peaks of those still to come. */
  readonly order: readonly number[];
  readonly peaksToCome: readonly number[];
}

function pairOf(problem: Problem, first: PlaceClass, second: PlaceClass): Pair {
  const best = (c: number): Measured["table"]["best"] => problem.measured[c]!.table.best;
  const order = [...problem.measured.keys()].sort((a, b) => best(a).sigma - best(b).sigma);
  const peaksToCome = order.map((_, rank) => order.slice(rank + 1).reduce((sum, c) => sum + best(c).peak, 0));
  const grid = { first: coarseShares(first), second: coarseShares(second) };
  return { problem, first, second, grid, order, peaksToCome };
}

interface PairLeaks {
  /** Healthy leakage of a module and the two faults [S]. */
  g: number;
  first: number;
  second: number;
}

interface CoarseGrid {
  readonly shares: Float64Array;
  readonly spacing: number;
}

function coarseShares(placeClass: PlaceClass): CoarseGrid {
  const low = placeClass.places[0]!.share;
  const high = placeClass.places[placeClass.places.length - 1]!.share;
  const count = Math.min(COARSE_POINTS, placeClass.places.length);
  const spacing = count > 1 ? (high - low) / count : 0;
  return {
    shares: Float64Array.from({ length: count }, (_, i) => (count > 1 ? low + (i + 0.5) * spacing : low)),
    spacing,
  };
}

/** ln L = constant − (quadratic form in the two shares): coefficients of x², y², xy, x, y. */
interface Plane {
  constant: number;
  xx: number;
  yy: number;
  xy: number;
  x: number;
  y: number;
}

const entry: TableEntry = { peak: 0, share: 0, variance: 0 };

/** Fills the plane. @returns false, the plane unfinished, where ln L cannot reach the floor wherever the places are */
function planeAt(pair: Pair, leaks: PairLeaks, floor: number, out: Plane): boolean {
  const { problem, first, second, grid, order, peaksToCome } = pair;
  out.constant = out.xx = out.yy = out.xy = out.x = out.y = 0;
  let ceiling = 0;
  for (let rank = 0; rank < order.length; rank++) {
    const c = order[rank]!;
    const measured = problem.measured[c]!;
    const healthy = leaks.g * measured.configuration.moduleCount;
    const inFirst = first.contains[c] === 1 ? leaks.first : 0;
    const inSecond = second.contains[c] === 1 ? leaks.second : 0;
    const total = healthy + inFirst + inSecond;
    lookUp(measured.table, Math.log(total), entry);
    if (ceiling + entry.peak + peaksToCome[rank]! < floor) return false;
    const slopeX = inFirst === 0 ? 0 : (inFirst / total) * first.slope[c]!;
    const slopeY = inSecond === 0 ? 0 : (inSecond / total) * second.slope[c]!;
    const offsetX = inFirst === 0 ? 0 : (inFirst / total) * first.offset[c]!;
    const offsetY = inSecond === 0 ? 0 : (inSecond / total) * second.offset[c]!;
    // The coarse grid of places is smoothed by its own spacing, so that no needle falls between its points.
    const coarse = ((slopeX * grid.first.spacing) ** 2 + (slopeY * grid.second.spacing) ** 2) / 12;
    const sway = problem.leakageSpread * (measured.healthyShare - entry.share);
    const unlike = (problem.lopsided ** 2 + sway ** 2) * (healthy / total) ** 2;
    const variance = entry.variance + measured.mismatchVariance + unlike + coarse;
    const rest = (measured.healthyShare * healthy) / total + offsetX + offsetY - entry.share;
    const top = entry.peak + 0.5 * Math.log(entry.variance / variance);
    ceiling += top;
    out.constant += top - (0.5 * rest * rest) / variance;
    out.xx += (0.5 * slopeX * slopeX) / variance;
    out.yy += (0.5 * slopeY * slopeY) / variance;
    out.xy += (slopeX * slopeY) / variance;
    out.x += (rest * slopeX) / variance;
    out.y += (rest * slopeY) / variance;
  }
  addClamps(pair, leaks, out);
  return true;
}

function addClamps({ problem, first, second }: Pair, { g, ...faults }: PairLeaks, out: Plane): void {
  for (const clamp of problem.clamps) {
    const leaks = [
      { string: first.string, siemens: faults.first },
      { string: second.string, siemens: faults.second },
    ];
    const { slopes, rest, variance } = clampResponse(clamp, g, leaks);
    const [slopeX, slopeY] = slopes as [number, number];
    out.constant -= (0.5 * rest * rest) / variance + 0.5 * Math.log(variance / clamp.variance);
    out.xx += (0.5 * slopeX * slopeX) / variance;
    out.yy += (0.5 * slopeY * slopeY) / variance;
    out.xy += (slopeX * slopeY) / variance;
    out.x += (rest * slopeX) / variance;
    out.y += (rest * slopeY) / variance;
  }
}

/** Largest that the quadratic part can be, wherever the two places are. */
function lnPlaneBound(plane: Plane): number {
  const determinant = 4 * plane.xx * plane.yy - plane.xy * plane.xy;
  if (plane.xx < 1e-9 || plane.yy < 1e-9 || determinant < 1e-6 * plane.xx * plane.yy) {
    const alongX = plane.xx > 1e-9 ? (plane.x * plane.x) / (4 * plane.xx) : Math.max(0, -plane.x);
    const alongY = plane.yy > 1e-9 ? (plane.y * plane.y) / (4 * plane.yy) : Math.max(0, -plane.y);
    return Math.max(alongX, alongY, Math.max(0, -plane.x) + Math.max(0, -plane.y));
  }
  return (
    (plane.yy * plane.x * plane.x + plane.xx * plane.y * plane.y - plane.xy * plane.x * plane.y) / determinant
  );
}

/** ln of the mean over the grid of exp(−quadratic part); −Infinity where no point of the grid comes up to the floor. */
function lnPlaneMean({ xx, yy, xy, x, y }: Plane, { first, second }: Pair["grid"], floor: number): number {
  const [rows, columns] = [first.shares.length, second.shares.length];
  let top = -Infinity;
  for (let i = 0, filled = 0; i < rows; i++) {
    const atX = first.shares[i]!;
    const row = (xx * atX + x) * atX;
    const slope = xy * atX + y;
    for (let j = 0; j < columns; j++) {
      const atY = second.shares[j]!;
      const exponent = -(row + (yy * atY + slope) * atY);
      if (exponent > top) top = exponent;
      room[filled++] = exponent;
    }
  }
  if (top < floor) return -Infinity;
  const count = rows * columns;
  let sum = 0;
  for (let i = 0; i < count; i++) {
    const below = room[i]! - top;
    // A hard fault is a needle: all but a few points of the grid are nothing beside the best.
    if (below > UNSEEN) sum += Math.exp(below);
  }
  return top + Math.log(sum / count);
}

/** Working room of `lnPlaneMean`. */
const room = new Float64Array(COARSE_POINTS ** 2);
