import { bestOfNodes } from "./best-of-nodes.ts";
import { faultNodes, healthyNodes, needleOf, type Nodes } from "./nodes.ts";
import { addClamps, addConfiguration, parabolaAt, type Leaks, type Parabola } from "./parabola.ts";
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

/** How far the best of every second fault may lie below the best of all: their nodes are up to three widths apart. */
const OVERLOOKED = 6;

export function integrateClass(problem: Problem, placeClass: PlaceClass): ClassEvidence {
  const healthy = healthyNodes(problem, placeClass.contains);
  const search = new NodeSearch(problem, placeClass, healthy);
  const best = bestOfNodes(healthy.ln, (i) => search.bestAt(i));
  const floor = best.reduce((top, ln) => Math.max(top, ln), -Infinity) - NEGLIGIBLE;
  const list: Omit<EvidenceNode, "lnMass">[] = [];
  best.forEach((ln, i) => {
    if (ln >= floor - OVERLOOKED) search.collect(i, floor, list);
  });
  return sumOverPlaces(placeClass, list);
}

/**
 * The fault's nodes follow the narrowest needle, which therefore rules out none of them: it comes last, and the next
 * narrowest, which rules out most, first.
 */
function inOrderOfDoubt(problem: Problem, contains: Uint8Array): (a: number, b: number) => number {
  const { measured } = problem;
  const needle = needleOf(problem, contains);
  const rank = (c: number): number => (measured[c] === needle ? 1e9 : measured[c]!.table.best.sigma);
  return (a, b) => rank(a) - rank(b);
}

/** Walks the nodes of one class. */
class NodeSearch {
  private lnHealthy = 0;
  private lnPrior = 0;
  private readonly problem: Problem;
  private readonly placeClass: PlaceClass;
  private readonly healthy: Nodes;
  private readonly clean: readonly number[];
  private readonly held: readonly number[];
  private readonly heldPeaks: number;
  private readonly faults: (g: number) => Nodes;
  private readonly leaks: Leaks;
  private readonly without: Parabola = { constant: 0, a: 0, b: 0, ceiling: 0 };
  private readonly parabola: Parabola = { constant: 0, a: 0, b: 0, ceiling: 0 };

  constructor(problem: Problem, placeClass: PlaceClass, healthy: Nodes) {
    this.problem = problem;
    this.placeClass = placeClass;
    this.healthy = healthy;
    this.faults = faultNodes(problem, placeClass.contains);
    const all = [...problem.measured.keys()];
    this.clean = all.filter((c) => placeClass.contains[c] !== 1);
    this.held = all
      .filter((c) => placeClass.contains[c] === 1)
      .sort(inOrderOfDoubt(problem, placeClass.contains));
    this.heldPeaks = this.held.reduce((sum, c) => sum + problem.measured[c]!.table.best.peak, 0);
    this.leaks = { g: 0, fault: 0, lopsided: problem.lopsided };
  }

  /** About the best ln (likelihood × prior) beside the healthy leakage of node i, from every second fault. */
  bestAt(i: number): number {
    const faults = this.beside(i);
    let best = -Infinity;
    for (let j = faults.ln.length > 1 ? 1 : 0; j < faults.ln.length; j += 2)
      best = Math.max(best, this.boundAt(faults, j, best));
    return best;
  }

  /** Every fault beside the healthy leakage of node i that comes up to the floor goes to the list. */
  collect(i: number, floor: number, list: Omit<EvidenceNode, "lnMass">[]): void {
    const faults = this.beside(i);
    for (let j = 0; j < faults.ln.length; j++) {
      if (this.boundAt(faults, j, floor) < floor) continue;
      const { constant, a, b } = this.parabola;
      list.push({ g: this.leaks.g, fault: this.leaks.fault, constant: constant + this.lnPrior, a, b });
    }
  }

  /** Takes the healthy leakage of node i. */
  private beside(i: number): Nodes {
    const { problem, placeClass, without, leaks } = this;
    leaks.g = Math.exp(this.healthy.ln[i]!);
    this.lnHealthy = this.healthy.lnWeight[i]!;
    without.constant = without.a = without.b = without.ceiling = 0;
    // What no fault is in does not depend on the fault.
    for (const c of this.clean) addConfiguration(problem, placeClass, c, leaks, without);
    return this.faults(leaks.g);
  }

  /** Best ln (likelihood × prior) of one fault, wherever the place is, between junctions too; −Infinity below the floor. */
  private boundAt(faults: Nodes, j: number, floor: number): number {
    this.lnPrior = this.lnHealthy + faults.lnWeight[j]!;
    this.leaks.fault = Math.exp(faults.ln[j]!);
    if (!this.reaches(floor - this.lnPrior)) return -Infinity;
    const { constant, a, b } = this.parabola;
    return constant + this.lnPrior + (a > 0 ? (b * b) / (4 * a) : 0);
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

function sumOverPlaces(placeClass: PlaceClass, list: readonly Omit<EvidenceNode, "lnMass">[]): ClassEvidence {
  const bounds = list.map(({ constant, a, b }) => constant + (a > 0 ? (b * b) / (4 * a) : 0));
  const top = bounds.reduce((highest, bound) => Math.max(highest, bound), -Infinity);
  const places = placeClass.places;
  const sums = new Float64Array(places.length);
  // A place that no node reaches keeps its best exponent, so that hopeless hypotheses still compare.
  const best = new Float64Array(places.length).fill(-Infinity);
  const shares = Float64Array.from(places, (place) => place.share);
  const nodes: EvidenceNode[] = [];
  list.forEach((node, i) => {
    if (bounds[i]! < top - NEGLIGIBLE) return;
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
  });
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
