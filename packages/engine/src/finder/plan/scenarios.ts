import type { ClassEvidence } from "../one-fault.ts";
import type { Place } from "../places.ts";
import type { Posterior } from "../posterior.ts";
import type { PlaceClass, Problem } from "../problem.ts";

/** One damaged place of a scenario. */
export interface ScenarioLeak {
  /** Index of the string; below zero for the combiner bus (`busIndex`). */
  readonly string: number;
  readonly at: number;
  readonly share: number;
  /** Conductance [S]. */
  readonly siemens: number;
  /** If the junction of the damage is opened, whether the damage stays with the part above it. */
  readonly staysAbove: boolean;
}

/**
 * One way the array might be, weighted by the posterior. A few dozen of them stand for the posterior while a plan is
 * made. `answer` is what we want to know: the place's index, or one of the outcomes below.
 */
export interface Scenario {
  readonly answer: number;
  readonly leaks: readonly ScenarioLeak[];
  /** Healthy leakage of one module [S]. */
  readonly g: number;
  /** How far the centroid of healthy leakage lies from the even spread's, as a share of the string. */
  readonly tilt: number;
  readonly weight: number;
}

/** Answers other than one place. */
const OUTCOME = { none: -1, two: -2, wetness: -3 } as const;

const MAX_PLACES = 40;
/** Places likelier than this are stood for by a spread of resistances, others by one. */
const WORTH_A_SPREAD = 0.1;
const NEGLIGIBLE = 0.0005;
/** Hypotheses less likely than this are left to the readings taken for other reasons. */
const UNWORTHY = 0.01;
const QUANTILES = { spread: [0.2, 0.8], single: [0.5] } as const;

export function scenariosOf(problem: Problem, posterior: Posterior): Scenario[] {
  const { none, wetness, one, two } = posterior.hypotheses;
  const scenarios = [...oneFaultScenarios(posterior, one)];
  if (none > UNWORTHY) scenarios.push(healthyScenario(posterior, none));
  if (wetness > UNWORTHY) scenarios.push(wetScenario(problem, posterior, wetness));
  if (two > UNWORTHY) scenarios.push(...twoFaultScenarios(problem, posterior, two));
  const total = scenarios.reduce((sum, scenario) => sum + scenario.weight, 0);
  // Two faults for certain, on a stretch too short to hold a pair, leave no weight to share out.
  const even = 1 / scenarios.length;
  return scenarios.map((scenario) => ({ ...scenario, weight: total > 0 ? scenario.weight / total : even }));
}

function oneFaultScenarios(posterior: Posterior, probability: number): Scenario[] {
  const scenarios: Scenario[] = [];
  const order = Array.from(posterior.places.keys()).sort(
    (a, b) => posterior.places[b]! - posterior.places[a]!,
  );
  const kept = new Set(order.slice(0, MAX_PLACES).filter((index) => posterior.places[index]! > NEGLIGIBLE));
  for (const { placeClass, lnEvidence, nodes } of posterior.classes) {
    if (nodes.length === 0) continue;
    placeClass.places.forEach((place, p) => {
      const index = placeClass.index[p]!;
      if (!kept.has(index)) return;
      const share = classShare(posterior, index, placeClass.weight[p]!, lnEvidence[p]!);
      const picked = nodesAt(
        nodes,
        place.share,
        posterior.places[index]! > WORTH_A_SPREAD ? QUANTILES.spread : QUANTILES.single,
      );
      // Only at a junction can an opening leave the damage on either side.
      const sides = place.what === "module" ? [true] : [true, false];
      const weight = (probability * posterior.places[index]! * share) / (sides.length * picked.length);
      for (const node of picked)
        for (const staysAbove of sides)
          scenarios.push({
            answer: index,
            leaks: [leakAt(place, node.fault, staysAbove)],
            g: node.g,
            tilt: 0,
            weight,
          });
    });
  }
  return scenarios;
}

function leakAt(
  place: Pick<Place, "string" | "at" | "share">,
  siemens: number,
  staysAbove: boolean,
): ScenarioLeak {
  return { string: place.string, at: place.at, share: place.share, siemens, staysAbove };
}

/** A place at an opened junction appears in two classes; each carries its own share of the place's probability. */
function classShare(posterior: Posterior, index: number, weight: number, lnEvidence: number): number {
  let sum = 0;
  for (const other of posterior.classes)
    other.placeClass.index.forEach((candidate, p) => {
      if (candidate === index)
        sum += other.placeClass.weight[p]! * Math.exp(other.lnEvidence[p]! - lnEvidence);
    });
  return weight / sum;
}

/** Nodes at the asked quantiles of what resistance and leakage may be if the fault is at this place. */
function nodesAt(
  nodes: ClassEvidence["nodes"],
  share: number,
  quantiles: readonly number[],
): { g: number; fault: number }[] {
  let top = -Infinity;
  const shares = new Float64Array(nodes.length);
  for (let i = 0; i < nodes.length; i++) {
    const { constant, a, b } = nodes[i]!;
    const value = constant - (a * share + b) * share;
    shares[i] = value;
    if (value > top) top = value;
  }
  let total = 0;
  for (let i = 0; i < shares.length; i++) total += shares[i] = Math.exp(shares[i]! - top);
  const picked: { g: number; fault: number }[] = [];
  let sum = 0;
  for (let i = 0; i < nodes.length && picked.length < quantiles.length; i++) {
    sum += shares[i]!;
    while (picked.length < quantiles.length && sum >= quantiles[picked.length]! * total)
      picked.push(nodes[i]!);
  }
  return picked.length > 0 ? picked : [nodes[0]!];
}

function heaviest(nodes: readonly { readonly g: number; readonly lnMass: number }[]): number {
  return nodes.reduce((a, b) => (b.lnMass > a.lnMass ? b : a)).g;
}

function healthyScenario(posterior: Posterior, weight: number): Scenario {
  return { answer: OUTCOME.none, leaks: [], g: heaviest(posterior.healthy.nodes), tilt: 0, weight };
}

function wetScenario(problem: Problem, posterior: Posterior, weight: number): Scenario {
  const measured = problem.measured[0];
  const tilt = measured ? measured.table.share[measured.table.best.index]! - measured.healthyShare : 0;
  return { answer: OUTCOME.wetness, leaks: [], g: heaviest(posterior.wetness.nodes), tilt, weight };
}

/** Pairs of places, either side of where one fault would seem to be, that give the same terminal readings. */
function twoFaultScenarios(problem: Problem, posterior: Posterior, weight: number): Scenario[] {
  const best = posterior.lnClass.reduce((top, ln, i) => (ln > posterior.lnClass[top]! ? i : top), 0);
  const { placeClass, lnEvidence, nodes } = posterior.classes[best]!;
  if (nodes.length === 0) return [];
  const node = nodes.reduce((a, b) => (b.lnMass > a.lnMass ? b : a));
  const centre = centreOf(placeClass, lnEvidence, node);
  const below = placeClass.places.filter((place) => place.share < centre - 1e-6);
  const above = placeClass.places.filter((place) => place.share > centre + 1e-6);
  const pairs: Scenario[] = [];
  for (const low of spread(below))
    for (const high of spread(above)) {
      // Levers about the apparent place balance.
      const part = (high.share - centre) / (high.share - low.share);
      const leaks = [leakAt(low, node.fault * part, true), leakAt(high, node.fault * (1 - part), false)];
      pairs.push({ answer: OUTCOME.two, leaks, g: node.g, tilt: 0, weight: 1 });
    }
  return pairs.map((pair) => ({ ...pair, weight: weight / pairs.length }));
}

/** Where, between junctions or on one, this node's parabola puts the damage. */
function centreOf(
  placeClass: PlaceClass,
  lnEvidence: Float64Array,
  node: ClassEvidence["nodes"][number],
): number {
  if (node.a > 1) return Math.min(1, Math.max(0, -node.b / (2 * node.a)));
  const top = lnEvidence.reduce((best, ln, i) => (ln > lnEvidence[best]! ? i : best), 0);
  return placeClass.places[top]!.share;
}

/** Three places that span a list: near its ends and in the middle. */
function spread(places: readonly Place[]): Place[] {
  if (places.length <= 3) return [...places];
  return [0.1, 0.5, 0.9].map((share) => places[Math.floor(share * places.length)]!);
}
