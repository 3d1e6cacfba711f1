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
  /** What ln L is at most, wherever the place is: the peaks of the tables, as the squares are never above zero. */
  ceiling: number;
}

/** The leaks of one hypothesis: healthy leakage of a module, the fault [S], and how far leakage may be out of balance. */
interface Leaks {
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

function addConfiguration(
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
function addClamps(
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
  const search = new NodeSearch(problem, placeClass, healthy);
  // A first look at every sixteenth node finds about how high the evidence rises; most of the rest is then cut short.
  for (let i = 0; i < healthy.ln.length; i += 16) search.visit(i, null);
  for (let i = 0; i < healthy.ln.length; i++) search.visit(i, list);
  return sumOverPlaces(placeClass, list, search.top);
}

/** Walks the nodes of one class, leaving out what falls far below the best met so far. */
class NodeSearch {
  top = -Infinity;
  private readonly problem: Problem;
  private readonly placeClass: PlaceClass;
  private readonly healthy: Nodes;
  private readonly clean: readonly number[];
  private readonly held: readonly number[];
  private readonly heldPeaks: number;
  private readonly leaks: Leaks;
  private readonly without: Parabola = { constant: 0, a: 0, b: 0, ceiling: 0 };
  private readonly parabola: Parabola = { constant: 0, a: 0, b: 0, ceiling: 0 };

  constructor(problem: Problem, placeClass: PlaceClass, healthy: Nodes) {
    this.problem = problem;
    this.placeClass = placeClass;
    this.healthy = healthy;
    const all = [...problem.measured.keys()];
    this.clean = all.filter((c) => placeClass.contains[c] !== 1);
    this.held = all.filter((c) => placeClass.contains[c] === 1);
    this.heldPeaks = this.held.reduce((sum, c) => sum + problem.measured[c]!.table.best.peak, 0);
    this.leaks = { g: 0, fault: 0, lopsided: problem.lopsided };
  }

  /** Every fault conductance beside the healthy leakage of node i; those that count go to the list. */
  visit(i: number, list: Omit<EvidenceNode, "lnMass">[] | null): void {
    const { problem, placeClass, without, leaks } = this;
    const g = Math.exp(this.healthy.ln[i]!);
    const lnHealthy = this.healthy.lnWeight[i]!;
    leaks.g = g;
    without.constant = without.a = without.b = without.ceiling = 0;
    // What no fault is in does not depend on the fault.
    for (const c of this.clean) addConfiguration(problem, placeClass, c, leaks, without);
    if (without.ceiling + this.heldPeaks + lnHealthy < this.top - NEGLIGIBLE) return;
    const faults = faultNodes(problem, placeClass.contains, g);
    for (let j = 0; j < faults.ln.length; j++) {
      const lnPrior = lnHealthy + faults.lnWeight[j]!;
      leaks.fault = Math.exp(faults.ln[j]!);
      if (!this.reaches(this.top - NEGLIGIBLE - lnPrior)) continue;
      const { a, b } = this.parabola;
      const constant = this.parabola.constant + lnPrior;
      const bound = constant + (a > 0 ? (b * b) / (4 * a) : 0);
      if (bound < this.top - NEGLIGIBLE) continue;
      this.top = Math.max(this.top, bound);
      list?.push({ g, fault: leaks.fault, constant, a, b });
    }
  }

  /** Fills the parabola, unless ln L cannot reach the floor wherever the place is. */
  private reaches(floor: number): boolean {
    const { problem, placeClass, without, parabola, leaks } = this;
    parabola.constant = without.constant;
    parabola.a = without.a;
    parabola.b = without.b;
    parabola.ceiling = without.ceiling;
    let rest = this.heldPeaks;
    for (const c of this.held) {
      rest -= problem.measured[c]!.table.best.peak;
      addConfiguration(problem, placeClass, c, leaks, parabola);
      if (parabola.ceiling + rest < floor) return false;
    }
    addClamps(problem, placeClass, leaks.g, leaks.fault, parabola);
    return true;
  }
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
    const { g, fault, constant, a, b } = node;
    nodes.push({ g, fault, constant, a, b, lnMass: Math.log(mass) + top });
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
  const parabola: Parabola = { constant: 0, a: 0, b: 0, ceiling: 0 };
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
