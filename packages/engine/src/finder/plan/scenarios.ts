import type { Posterior } from "../posterior.ts";
import type { Problem } from "../problem.ts";

/**
 * One way the array might be: a place with its resistance and the healthy leakage, weighted by the posterior. A few
 * dozen of them stand for the posterior while a plan is made.
 */
export interface Scenario {
  /** Index of the place in the problem; −1 when there is no fault. */
  readonly place: number;
  /** Index of the string; −1 for the combiner bus or no fault. */
  readonly string: number;
  readonly at: number;
  readonly share: number;
  /** Conductance of the fault and healthy leakage of one module [S]. */
  readonly fault: number;
  readonly g: number;
  /** If the junction of the damage is opened, whether the damage stays with the part above it. */
  readonly staysAbove: boolean;
  readonly weight: number;
}

const MAX_PLACES = 90;
const NEGLIGIBLE = 0.0005;
const QUANTILES = [0.2, 0.8];

export function scenariosOf(problem: Problem, posterior: Posterior): Scenario[] {
  const scenarios: Scenario[] = [];
  const fault = posterior.hypotheses.one + posterior.hypotheses.two;
  const order = Array.from(posterior.places.keys()).sort(
    (a, b) => posterior.places[b]! - posterior.places[a]!,
  );
  const kept = new Set(order.slice(0, MAX_PLACES).filter((index) => posterior.places[index]! > NEGLIGIBLE));
  for (const { placeClass, lnEvidence, nodes } of posterior.classes) {
    placeClass.places.forEach((place, p) => {
      const index = placeClass.index[p]!;
      if (!kept.has(index) || lnEvidence[p] === -Infinity) return;
      const shareOfClass = classShare(posterior, index, placeClass.weight[p]!, lnEvidence[p]!);
      const picked = nodesAt(nodes, place.share);
      for (const node of picked)
        for (const staysAbove of [true, false])
          scenarios.push({
            place: index,
            string: place.string,
            at: place.at,
            share: place.share,
            fault: node.fault,
            g: node.g,
            staysAbove,
            weight: (fault * posterior.places[index]! * shareOfClass) / (2 * picked.length),
          });
    });
  }
  scenarios.push(...healthyScenarios(posterior));
  const total = scenarios.reduce((sum, scenario) => sum + scenario.weight, 0);
  return scenarios.map((scenario) => ({ ...scenario, weight: scenario.weight / total }));
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

/** Two nodes that span what the resistance and the leakage may be if the fault is at this place. */
function nodesAt(
  nodes: Posterior["classes"][number]["nodes"],
  share: number,
): { g: number; fault: number }[] {
  let top = -Infinity;
  const ln = nodes.map((node) => {
    const value = node.constant - (node.a * share + node.b) * share;
    if (value > top) top = value;
    return value;
  });
  let total = 0;
  for (const value of ln) total += Math.exp(value - top);
  const picked: { g: number; fault: number }[] = [];
  let sum = 0;
  for (let i = 0; i < nodes.length && picked.length < QUANTILES.length; i++) {
    sum += Math.exp(ln[i]! - top);
    while (picked.length < QUANTILES.length && sum >= QUANTILES[picked.length]! * total)
      picked.push(nodes[i]!);
  }
  return picked.length > 0 ? picked : [nodes[0]!];
}

function healthyScenarios(posterior: Posterior): Scenario[] {
  const healthy = posterior.hypotheses.none + posterior.hypotheses.wetness;
  if (healthy < NEGLIGIBLE) return [];
  const best = posterior.healthy.nodes.reduce((a, b) => (b.lnMass > a.lnMass ? b : a));
  return [{ place: -1, string: -1, at: 0, share: 0, fault: 0, g: best.g, staysAbove: true, weight: healthy }];
}
