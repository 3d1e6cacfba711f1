import { lookUp, type TableEntry } from "./configuration-likelihood.ts";
import { clampResponse } from "./leakage-clamp.ts";
import { faultNodes, healthyNodes, type Nodes } from "./nodes.ts";
import type { PlaceClass, Problem } from "./problem.ts";

/** What one class of places makes of the readings, integrated over fault resistance and healthy leakage. */
export interface ClassEvidence {
  readonly placeClass: PlaceClass;
  /** ln of likelihood × prior, integrated, for each place of the class (weights not yet applied). */
  readonly lnEvidence: Float64Array;
  /** Quadrature nodes that matter, for the places of the class or for any place between them. */
  readonly nodes: readonly EvidenceNode[];
}

/** One quadrature node: its leaks, its share of the class's evidence (place weights applied), and its parabola. */
export interface EvidenceNode {
  /** Healthy leakage of one module [S]. */
  readonly g: number;
  /** Conductance of the fault [S]. */
  readonly fault: number;
  readonly lnMass: number;
  readonly constant: number;
  readonly a: number;
  readonly b: number;
}

/** A node counts when it holds more than e⁻³⁰ of the best. */
const NEGLIGIBLE = 30;

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
}

export function parabolaAt(
  problem: Problem,
  placeClass: PlaceClass | null,
  g: number,
  fault: number,
  lopsided: number,
  out: Parabola,
): void {
  let constant = 0;
  let a = 0;
  let b = 0;
  for (let c = 0; c < problem.measured.length; c++) {
    const measured = problem.measured[c]!;
    const holds = placeClass?.contains[c] === 1;
    const healthy = g * measured.configuration.moduleCount;
    const total = healthy + (holds ? fault : 0);
    const lnG = Math.log(total);
    lookUp(measured.table, lnG, entry);
    const extra = measured.mismatchVariance + ((lopsided * healthy) / total) ** 2;
    const variance = entry.variance + extra;
    const fromHealthy = (measured.healthyShare * healthy) / total;
    const pull = holds ? fault / total : 0;
    const rest = fromHealthy + (holds ? pull * placeClass.offset[c]! : 0) - entry.share;
    const slope = holds ? pull * placeClass.slope[c]! : 0;
    constant -= (0.5 * rest * rest) / variance - 0.5 * Math.log(entry.variance / variance);
    a += (0.5 * slope * slope) / variance;
    b += (rest * slope) / variance;
    constant += problem.leakageSpread === 0 ? entry.peak : spreadPeak(problem, c, total, healthy, entry.peak);
  }
  out.constant = constant;
  out.a = a;
  out.b = b;
  addClamps(problem, placeClass, g, fault, out);
}

/** Clamp readings are linear in the place too, so they add to the parabola. */
function addClamps(
  problem: Problem,
  placeClass: PlaceClass | null,
  g: number,
  fault: number,
  out: Parabola,
): void {
  for (const clamp of problem.clamps) {
    const leaks = placeClass === null ? [] : [{ string: placeClass.string, siemens: fault }];
    const { constant, slopes } = clampResponse(clamp, g, leaks);
    const rest = constant - clamp.amperes;
    const slope = slopes[0] ?? 0;
    out.constant -= (0.5 * rest * rest) / clamp.variance;
    out.a += (0.5 * slope * slope) / clamp.variance;
    out.b += (rest * slope) / clamp.variance;
  }
}

/** The table's peak smeared over unequal healthy leakage of the parts, three-point Gauss–Hermite. */
function spreadPeak(problem: Problem, c: number, total: number, healthy: number, centre: number): number {
  const measured = problem.measured[c]!;
  const shift = Math.exp(SQRT3 * problem.leakageSpread);
  const table = measured.table;
  const share = healthy / total;
  if (share * problem.leakageSpread < 0.05 * table.best.sigma) return centre;
  lookUp(table, Math.log(total + healthy * (shift - 1)), entry);
  const up = entry.peak;
  lookUp(table, Math.log(total + healthy * (1 / shift - 1)), entry);
  const down = entry.peak;
  const top = Math.max(centre, up, down);
  return top + Math.log((4 * Math.exp(centre - top) + Math.exp(up - top) + Math.exp(down - top)) / 6);
}

export function integrateClass(problem: Problem, placeClass: PlaceClass): ClassEvidence {
  const healthy = healthyNodes(problem, placeClass.contains);
  const list: Omit<EvidenceNode, "lnMass">[] = [];
  const parabola: Parabola = { constant: 0, a: 0, b: 0 };
  let top = -Infinity;
  for (let i = 0; i < healthy.ln.length; i++) {
    const g = Math.exp(healthy.ln[i]!);
    const faults = faultNodes(problem, placeClass.contains, g);
    for (let j = 0; j < faults.ln.length; j++) {
      const fault = Math.exp(faults.ln[j]!);
      parabolaAt(problem, placeClass, g, fault, problem.lopsided, parabola);
      const constant = parabola.constant + healthy.lnWeight[i]! + faults.lnWeight[j]!;
      const bound = constant + (parabola.a > 0 ? (parabola.b * parabola.b) / (4 * parabola.a) : 0);
      if (bound < top - NEGLIGIBLE) continue;
      top = Math.max(top, bound);
      list.push({ g, fault, constant, a: parabola.a, b: parabola.b });
    }
  }
  return sumOverPlaces(placeClass, list, top);
}

function sumOverPlaces(
  placeClass: PlaceClass,
  list: readonly Omit<EvidenceNode, "lnMass">[],
  top: number,
): ClassEvidence {
  const places = placeClass.places;
  const sums = new Float64Array(places.length);
  // A place that no node reaches keeps its best exponent, so that hopeless hypotheses still compare.
  const best = new Float64Array(places.length).fill(-Infinity);
  const shares = Float64Array.from(places, (place) => place.share);
  const nodes: EvidenceNode[] = [];
  for (const node of list) {
    const bound = node.constant + (node.a > 0 ? (node.b * node.b) / (4 * node.a) : 0);
    if (bound < top - NEGLIGIBLE) continue;
    let mass = 0;
    for (let p = 0; p < shares.length; p++) {
      const share = shares[p]!;
      const exponent = node.constant - top - (node.a * share + node.b) * share;
      if (exponent > best[p]!) best[p] = exponent;
      if (exponent < -NEGLIGIBLE - 10) continue;
      const value = Math.exp(exponent);
      sums[p]! += value;
      mass += value * placeClass.weight[p]!;
    }
    nodes.push({ ...node, lnMass: Math.log(mass) + top });
  }
  const lnEvidence = sums.map((sum, p) => (sum > 0 ? Math.log(sum) : Math.max(best[p]!, -1e6)) + top);
  return { placeClass, lnEvidence, nodes };
}

/** What "no point fault" makes of the readings, integrated over healthy leakage. */
export interface HealthyEvidence {
  readonly lnEvidence: number;
  readonly nodes: readonly { readonly g: number; readonly lnMass: number }[];
}

/** Evidence of "no point fault": healthy leakage only, its centroid within `lopsided` of the even spread's. */
export function integrateHealthy(
  problem: Problem,
  lopsided: number,
  leakageOhms = problem.leakageOhms,
): HealthyEvidence {
  const healthy: Nodes = healthyNodes(problem, null, leakageOhms);
  const parabola: Parabola = { constant: 0, a: 0, b: 0 };
  const nodes = healthy.ln.map((ln, i) => {
    const g = Math.exp(ln);
    parabolaAt(problem, null, g, 0, lopsided, parabola);
    return { g, lnMass: parabola.constant + healthy.lnWeight[i]! };
  });
  return { lnEvidence: lnSumExp(nodes.map((node) => node.lnMass)), nodes };
}

export function lnSumExp(values: readonly number[]): number {
  let top = -Infinity;
  for (const value of values) if (value > top) top = value;
  if (top === -Infinity) return top;
  let sum = 0;
  for (const value of values) sum += Math.exp(value - top);
  return top + Math.log(sum);
}
