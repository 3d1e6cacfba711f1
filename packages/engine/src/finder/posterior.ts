import { HYPOTHESIS_PRIOR, LEAKAGE_LOPSIDED, MODULE_LEAKAGE_OHMS } from "./priors.ts";
import {
  integrateClass,
  integrateHealthy,
  lnSumExp,
  type ClassEvidence,
  type HealthyEvidence,
} from "./one-fault.ts";
import type { PlaceClass, Problem } from "./problem.ts";
import { crossClassEvidence, sameClassEvidence } from "./two-faults.ts";

export type HypothesisName = "none" | "wetness" | "one" | "two";

/** Everything the readings say, before it is put into words. */
export interface Posterior {
  /** Probability of each hypothesis; sums to 1. */
  readonly hypotheses: Readonly<Record<HypothesisName, number>>;
  /** Probability of each place of the problem, given that there is one fault; sums to 1. */
  readonly places: Float64Array;
  readonly classes: readonly ClassEvidence[];
  readonly healthy: HealthyEvidence;
  readonly wetness: HealthyEvidence;
  /** ln evidence of one fault in each class, place weights applied, normalised over all places. */
  readonly lnClass: readonly number[];
}

/** Two faults whose evidence lies this far below another hypothesis's need no exact figure. */
const FAR_BELOW = 15;

/** How many classes (the likeliest) are tried in pairs for two separate faults. */
const PAIRED_CLASSES = 5;

export function posteriorOf(problem: Problem): Posterior {
  const signatures = problem.classes.map((placeClass) => signature(problem, placeClass));
  const classes = integrateClasses(problem, signatures);
  const lnTotalWeight = Math.log(problem.places.reduce((sum, place) => sum + place.weight, 0));
  const lnPlaces = new Float64Array(problem.places.length).fill(-Infinity);
  const lnClass = classes.map(({ placeClass, lnEvidence }) => {
    const terms = Array.from(lnEvidence, (ln, p) => ln + Math.log(placeClass.weight[p]!) - lnTotalWeight);
    terms.forEach((term, p) => {
      const index = placeClass.index[p]!;
      lnPlaces[index] = lnSumExp([lnPlaces[index]!, term]);
    });
    return lnSumExp(terms);
  });
  const wet = problem.bench.wet ? "wet" : "dry";
  const even = integrateHealthy(problem, problem.lopsided);
  const uneven = integrateHealthy(problem, LEAKAGE_LOPSIDED.uneven);
  const lnHealthy = lnSumExp([even.lnEvidence, uneven.lnEvidence]) - Math.LN2;
  const healthy = { ...(uneven.lnEvidence > even.lnEvidence ? uneven : even), lnEvidence: lnHealthy };
  const wetness = integrateHealthy(problem, LEAKAGE_LOPSIDED.wetness, {
    min: 2e5,
    max: MODULE_LEAKAGE_OHMS[wet].max,
  });
  const prior = {
    none: HYPOTHESIS_PRIOR.none,
    wetness: HYPOTHESIS_PRIOR.wetness[wet],
    two: HYPOTHESIS_PRIOR.two,
  };
  const others = [
    Math.log(prior.none) + healthy.lnEvidence,
    Math.log(prior.wetness) + wetness.lnEvidence,
    Math.log(1 - prior.none - prior.wetness - prior.two) + lnSumExp(lnClass),
  ] as const;
  const matters = Math.max(...others) - FAR_BELOW;
  const two = Math.log(prior.two) + twoFaultEvidence(problem, { classes, lnClass, signatures }, matters);
  const [none, wetnessShare, one, twoShare] = sharesOf(Float64Array.of(...others, two)) as unknown as [
    number,
    number,
    number,
    number,
  ];
  return {
    hypotheses: { none, wetness: wetnessShare, one, two: twoShare },
    places: sharesOf(lnPlaces),
    classes,
    healthy,
    wetness,
    lnClass,
  };
}

/** Probabilities from logarithms; sums to 1 even where rounding of a hopeless likelihood is larger than 1. */
function sharesOf(ln: Float64Array): Float64Array {
  const top = ln.reduce((a, b) => Math.max(a, b), -Infinity);
  const weights = ln.map((value) => Math.exp(value - top));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.map((weight) => weight / total);
}

/** Strings that every configuration sees alike share one integration. */
function integrateClasses(problem: Problem, signatures: readonly string[]): ClassEvidence[] {
  const done = new Map<string, ClassEvidence>();
  return problem.classes.map((placeClass, i) => {
    const key = signatures[i]!;
    const same = done.get(key);
    if (same) return { ...same, placeClass };
    const evidence = integrateClass(problem, placeClass);
    done.set(key, evidence);
    return evidence;
  });
}

function signature(
  problem: Problem,
  { string, contains, slope, offset, places, weight }: PlaceClass,
): string {
  // A clamp tells strings apart that every other reading sees alike.
  const clamped = problem.clamps.map(
    (clamp) => `${String(clamp.string === string)}${String(clamp.joined.has(string))}`,
  );
  return [
    clamped.join(),
    contains.join(),
    slope.join(),
    offset.join(),
    places.map((place) => place.share).join(),
    weight.join(),
  ].join(";");
}

/** The classes of a problem, each with the ln evidence of one fault in it and with what tells it from others. */
interface Integrated {
  readonly classes: readonly ClassEvidence[];
  readonly lnClass: readonly number[];
  readonly signatures: readonly string[];
}

function twoFaultEvidence(
  problem: Problem,
  { classes, lnClass, signatures }: Integrated,
  matters: number,
): number {
  const weights = classes.map(({ placeClass }) => placeClass.weight.reduce((sum, weight) => sum + weight, 0));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const order = lnClass.map((_, i) => i).sort((a, b) => lnClass[b]! - lnClass[a]!);
  const kept = [...new Set([...order.slice(0, PAIRED_CLASSES), ...leakiest(problem, classes)])];
  const pairs = new Map<string, number>();
  const terms: number[] = [];
  for (const [rank, i] of kept.entries()) {
    const first = classes[i]!;
    const share = weights[i]! / total;
    const together = sameClassEvidence(first);
    terms.push(2 * Math.log(share) + together);
    for (const j of kept.slice(rank + 1)) {
      const second = classes[j]!;
      const lnPrior = Math.log(2 * share * (weights[j]! / total));
      const separated =
        problem.clamps.length > 0 ||
        first.placeClass.contains.some((held, c) => held !== second.placeClass.contains[c]);
      const key = `${signatures[i]!} ${signatures[j]!}`;
      const evidence = separated
        ? (pairs.get(key) ?? crossClassEvidence(problem, first.placeClass, second.placeClass, matters))
        : together;
      pairs.set(key, evidence);
      terms.push(lnPrior + evidence);
    }
  }
  return lnSumExp(terms);
}

/** Classes measured on their own, the leakiest first: where a second fault would show. */
function leakiest(problem: Problem, classes: readonly ClassEvidence[]): number[] {
  const alone = problem.measured
    .map((measured, c) => ({
      c,
      parts: measured.configuration.parts.length,
      g: measured.table.best.lnG - Math.log(measured.configuration.moduleCount),
    }))
    .filter(({ parts }) => parts === 1)
    .sort((a, b) => b.g - a.g)
    .slice(0, 4);
  return alone.flatMap(({ c }) => {
    const index = classes.findIndex(
      ({ placeClass }) => placeClass.contains[c] === 1 && placeClass.places.length > 1,
    );
    return index < 0 ? [] : [index];
  });
}
