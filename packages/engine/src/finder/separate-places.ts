import { posteriorOf } from "./posterior.ts";
import { problemOf, type Problem } from "./problem.ts";

/** Conductance ratio over the cleanest part above which a separately measured part is held to be faulty too. */
const CLEARLY_LEAKIER = 3;

/**
 * Where the faults are when there is more than one: every separately measured part that leaks is read by itself and
 * the parts share the probability equally. Sums to 1 over the problem's places.
 */
export function separatePlaces(problem: Problem): Float64Array {
  const total = new Float64Array(problem.places.length);
  const single = problem.measured.filter(({ configuration }) => configuration.parts.length === 1);
  const smallest = single.filter(
    ({ configuration }, i) =>
      !single.some((other, j) => j !== i && isInside(other.configuration.parts[0]!, configuration.parts[0]!)),
  );
  const perModule = (measured: (typeof single)[number]): number =>
    Math.exp(measured.table.best.lnG) / measured.configuration.moduleCount;
  const cleanest = Math.min(...smallest.map(perModule));
  const leaky = smallest.filter(
    (measured) => smallest.length === 1 || perModule(measured) > CLEARLY_LEAKIER * cleanest,
  );
  const parts = leaky.length > 0 ? leaky : smallest;
  if (parts.length === 0) return posteriorOf(problem).places;
  for (const { configuration } of parts) {
    const readings = configuration.readings.map((index) => problem.visit.readings[index]!);
    const own = problemOf({ ...problem.visit, readings }, problem.bench);
    const part = configuration.parts[0]!;
    const inside = own.places.map(
      (place) => place.string === part.string && place.at >= part.fromNode && place.at <= part.toNode,
    );
    const places = posteriorOf(own).places.map((probability, i) => (inside[i] ? probability : 0));
    const mass = places.reduce((sum, probability) => sum + probability, 0);
    // Weights of zero can leave a part without a possible place.
    if (mass > 0) places.forEach((probability, i) => (total[i]! += probability / mass));
  }
  const sum = total.reduce((all, probability) => all + probability, 0);
  return sum > 0 ? total.map((probability) => probability / sum) : posteriorOf(problem).places;
}

type Stretch = Problem["measured"][number]["configuration"]["parts"][number];

function isInside(inner: Stretch, outer: Stretch): boolean {
  if (inner.string !== outer.string) return false;
  const smaller = inner.toNode - inner.fromNode < outer.toNode - outer.fromNode;
  return smaller && inner.fromNode >= outer.fromNode && inner.toNode <= outer.toNode;
}
