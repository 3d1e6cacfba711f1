import type { Configuration } from "./configuration.ts";
import type { Bench } from "./instruments.ts";
import { respond, rowOf, type Response, type Row, FLOATING, type PoleEarth } from "./reading-response.ts";
import type { Reading } from "./visit.ts";

/**
 * What the readings of one configuration say about its leak.
 *
 * With the total leak conductance G held, every voltmeter reading is linear in the centroid's potential u, the
 * open-circuit voltage V and the meter's own deviation m, so the likelihood of the centroid's share ρ = u/V is a
 * Gaussian. It is tabulated over ln G on nodes that crowd where it bends: a meter's needle in G is half a percent
 * wide and a plain grid over the decades would step over it.
 */
export interface LeakTable {
  /** ln G [ln S], ascending. */
  readonly lnG: Float64Array;
  /** Log-likelihood at the best ρ, up to one constant for the configuration. */
  readonly peak: Float64Array;
  /** Best share ρ and its variance. */
  readonly share: Float64Array;
  readonly variance: Float64Array;
  /** Where the table was last looked up, by whoever looks in rising order: a place to begin the next search, nothing more. */
  readonly last: Int32Array;
  /** Largest entry of `peak`, its ln G, and the width (one sigma) of the likelihood there in ln G. */
  readonly best: {
    readonly index: number;
    readonly lnG: number;
    readonly sigma: number;
    readonly peak: number;
  };
  /** The lowest ln G that the readings still allow (e⁻⁸ of the best): a hard fault has no best, only a floor. */
  readonly lowestLnG: number;
  /** Misfit at the best G: sum of squared normalised residuals, and how many readings exceed the unknowns. */
  readonly misfit: { readonly chiSquared: number; readonly freedom: number };
}

export interface VoltagePrior {
  readonly volts: number;
  readonly relativeSd: number;
}

const LN_G_MIN = Math.log(1e-11);
const LN_G_MAX = Math.log(3);
const COARSE_STEP = 0.5;
const MAX_DEPTH = 10;

export function leakTable(
  readings: readonly Reading[],
  configuration: Configuration,
  bench: Bench,
  voltage: VoltagePrior,
  earth: PoleEarth = FLOATING,
): LeakTable {
  const rows = configuration.readings.map((index) => rowOf(readings[index]!, bench, earth));
  const solver = new Solver(rows, voltage);
  const points = refine(solver);
  const table = {
    lnG: Float64Array.from(points, (point) => point.lnG),
    peak: Float64Array.from(points, (point) => point.peak),
    share: Float64Array.from(points, (point) => point.share),
    variance: Float64Array.from(points, (point) => point.variance),
    last: new Int32Array(WALKS),
  };
  let index = 0;
  for (let i = 1; i < points.length; i++) if (points[i]!.peak > points[index]!.peak) index = i;
  const best = points[index]!;
  const unknowns = 3 + (rows.some((row) => row.kind === "pm") ? 0 : -1);
  return {
    ...table,
    best: { index, lnG: best.lnG, sigma: widthAround(points, index), peak: best.peak },
    lowestLnG: (points.find((point) => point.peak > best.peak - 8) ?? best).lnG,
    misfit: { chiSquared: best.chiSquared, freedom: Math.max(0, rows.length - unknowns) },
  };
}

interface TablePoint {
  readonly lnG: number;
  readonly peak: number;
  readonly share: number;
  readonly variance: number;
  readonly chiSquared: number;
}

/** Weighted least squares in (u, V, m) for one held G. */
class Solver {
  private readonly rows: readonly Row[];
  private readonly voltage: VoltagePrior;
  private readonly tolerance: number;
  private readonly response: Response = { u: 0, v: 0, m: 0, constant: 0, extraVariance: 0 };

  constructor(rows: readonly Row[], voltage: VoltagePrior) {
    this.rows = rows;
    this.voltage = voltage;
    this.tolerance = Math.max(1e-6, ...rows.map((row) => row.meterTolerance));
  }

  at(lnG: number): TablePoint {
    const G = Math.exp(lnG);
    const weightV = 1 / this.voltage.relativeSd ** 2;
    // Priors: u/V0 near a half with a sigma of two, V/V0 = 1, m = 0.
    const n: Normal = {
      uu: 0.25,
      uv: 0,
      um: 0,
      vv: weightV,
      vm: 0,
      mm: 1 / this.tolerance ** 2,
      bu: 0.125,
      bv: weightV,
      bm: 0,
      yy: 0.0625 + weightV,
    };
    let logVariance = 0;
    const f = this.response;
    for (const row of this.rows) {
      respond(row, G, this.voltage.volts, f);
      const variance = row.variance + f.extraVariance;
      const w = 1 / variance;
      const y = row.value - f.constant;
      // A tester's error is even in ohms, so that its spread in siemens is no width of the likelihood.
      if (row.testVolts === 0) logVariance += Math.log(variance / row.variance);
      n.uu += w * f.u * f.u;
      n.uv += w * f.u * f.v;
      n.um += w * f.u * f.m;
      n.vv += w * f.v * f.v;
      n.vm += w * f.v * f.m;
      n.mm += w * f.m * f.m;
      n.bu += w * f.u * y;
      n.bv += w * f.v * y;
      n.bm += w * f.m * y;
      n.yy += w * y * y;
    }
    return reduce(lnG, n, logVariance);
  }
}

/** Normal equations of the least squares: upper triangle, right-hand side, and the sum of squares. */
type Normal = Record<"uu" | "uv" | "um" | "vv" | "vm" | "mm" | "bu" | "bv" | "bm" | "yy", number>;

/** Solves the 3×3 normal equations and turns (u, V) into the share ρ = u/V. */
function reduce(lnG: number, n: Normal, logVariance: number): TablePoint {
  // Eliminate m, then V.
  const uu = n.uu - (n.um * n.um) / n.mm;
  const uv = n.uv - (n.um * n.vm) / n.mm;
  const vv = n.vv - (n.vm * n.vm) / n.mm;
  const bu = n.bu - (n.um * n.bm) / n.mm;
  const bv = n.bv - (n.vm * n.bm) / n.mm;
  const det = uu * vv - uv * uv;
  const u = (bu * vv - bv * uv) / det;
  const v = (bv * uu - bu * uv) / det;
  const chiSquared = n.yy - (n.bm * n.bm) / n.mm - bu * u - bv * v;
  const share = u / v;
  const variance = (vv + 2 * share * uv + share * share * uu) / det / (v * v);
  // V and m integrated out with ρ held: the curvature along q = (ρ, 1).
  const along = share * share * uu + 2 * share * uv + vv;
  // Readings of a size that no array has leave a curvature that is nothing but rounding.
  const peak = along > 0 ? -0.5 * (chiSquared + Math.log(along) + Math.log(n.mm) + logVariance) : -Infinity;
  return { lnG, peak, share, variance, chiSquared };
}

/** Nodes from coarse to fine: halves an interval while the likelihood or the share bends inside it. */
function refine(solver: Solver): TablePoint[] {
  const points: TablePoint[] = [];
  const count = Math.ceil((LN_G_MAX - LN_G_MIN) / COARSE_STEP);
  const coarse: TablePoint[] = [];
  for (let i = 0; i <= count; i++) coarse.push(solver.at(LN_G_MIN + (i * (LN_G_MAX - LN_G_MIN)) / count));
  let top = Math.max(...coarse.map((point) => point.peak));
  const split = (left: TablePoint, right: TablePoint, depth: number): void => {
    const middle = solver.at((left.lnG + right.lnG) / 2);
    if (middle.peak > top) top = middle.peak;
    const near = Math.max(left.peak, middle.peak, right.peak) > top - 30;
    const hopeful = near || mayReach(left, middle, right) > top - 30;
    const bend = Math.abs(middle.peak - (left.peak + right.peak) / 2);
    const sway = Math.abs(middle.share - (left.share + right.share) / 2) / Math.sqrt(middle.variance);
    const steep = Math.abs(right.peak - left.peak) > 3;
    const deeper =
      depth < MAX_DEPTH &&
      (bend > 0.04 || (near && (sway > 0.05 || steep))) &&
      (near || (hopeful && bend > 20));
    if (deeper) {
      split(left, middle, depth + 1);
      split(middle, right, depth + 1);
    } else points.push(middle, right);
  };
  points.push(coarse[0]!);
  for (let i = 1; i < coarse.length; i++) split(coarse[i - 1]!, coarse[i]!, 0);
  return points;
}

/** About how high the likelihood may rise between three nodes: the parabola through them, and half their range more. */
function mayReach(left: TablePoint, middle: TablePoint, right: TablePoint): number {
  const high = Math.max(left.peak, middle.peak, right.peak);
  const low = Math.min(left.peak, middle.peak, right.peak);
  const curvature = left.peak - 2 * middle.peak + right.peak;
  const slope = (right.peak - left.peak) / 2;
  const vertex = curvature < 0 && Math.abs(slope) < -curvature ? (slope * slope) / (-2 * curvature) : 0;
  return Math.max(high, middle.peak + vertex) + (high - low) / 2;
}

function widthAround(points: readonly TablePoint[], index: number): number {
  const level = points[index]!.peak - 0.5;
  let low = index;
  while (low > 0 && points[low]!.peak > level) low--;
  let high = index;
  while (high < points.length - 1 && points[high]!.peak > level) high++;
  return Math.max(1e-4, (points[high]!.lnG - points[low]!.lnG) / 2);
}

/** Interpolated entry of a table; `out` is reused by the caller's inner loop. */
export interface TableEntry {
  peak: number;
  share: number;
  variance: number;
}

/** Ways through a table that begin their search apart: its own, and either side of it. */
const WALKS = 3;
export const WALK = { own: 0, above: 1, below: 2 } as const;
type Walk = (typeof WALK)[keyof typeof WALK];

export function lookUp(table: LeakTable, lnG: number, out: TableEntry): void {
  const nodes = table.lnG;
  const low = nodeBelow(table, lnG, WALK.own);
  const t = Math.min(1, Math.max(0, (lnG - nodes[low]!) / (nodes[low + 1]! - nodes[low]!)));
  out.peak = table.peak[low]! + t * (table.peak[low + 1]! - table.peak[low]!);
  out.share = table.share[low]! + t * (table.share[low + 1]! - table.share[low]!);
  out.variance = table.variance[low]! + t * (table.variance[low + 1]! - table.variance[low]!);
}

/** As `lookUp`, the log-likelihood alone. */
export function peakAt(table: LeakTable, lnG: number, walk: Walk): number {
  const nodes = table.lnG;
  const low = nodeBelow(table, lnG, walk);
  const t = Math.min(1, Math.max(0, (lnG - nodes[low]!) / (nodes[low + 1]! - nodes[low]!)));
  return table.peak[low]! + t * (table.peak[low + 1]! - table.peak[low]!);
}

/** Index of the interval that holds lnG. Nodes are asked for in rising order, so the last answer or the next is tried first. */
function nodeBelow({ lnG: nodes, last }: LeakTable, lnG: number, walk: Walk): number {
  let low = last[walk]!;
  if (nodes[low]! <= lnG) {
    if (lnG < nodes[low + 1]!) return low;
    if (low + 2 < nodes.length && lnG < nodes[low + 2]!) return (last[walk] = low + 1);
  } else low = 0;
  let high = nodes.length - 1;
  if (lnG >= nodes[high]!) return (last[walk] = high - 1);
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (nodes[middle]! <= lnG) low = middle;
    else high = middle;
  }
  return (last[walk] = low);
}
