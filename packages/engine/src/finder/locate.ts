import type { Finding, PlaceProbability } from "./finding.ts";
import { declinedBy, type Declined } from "./declined.ts";
import { fitOf, type Fit } from "./fit.ts";
import { handRules } from "./hand-rule.ts";
import { benchOf } from "./instruments.ts";
import { planNext } from "./plan/plan.ts";
import type { ClassEvidence } from "./one-fault.ts";
import { posteriorOf, type Posterior } from "./posterior.ts";
import { problemOf, type Problem } from "./problem.ts";
import { intervalOf, type WeightedLog } from "./quantiles.ts";
import { separatePlaces } from "./separate-places.ts";
import { doubtsAbout, type ReadingDoubt } from "./reading-doubts.ts";
import { COMMIT, credibleSet, judge, rankPlaces, type Ranked } from "./verdict.ts";
import type { Visit } from "./visit.ts";
import { withoutOutvoted } from "./repeats.ts";

/** Places less likely than this are left out of a finding. */
const NAMED = 0.001;

/**
 * Where the earth fault is, how sure that is, and what to measure next, from the readings of one visit.
 *
 * Model: every module a stiff source at open circuit; leaks to earth are conductances (circuit/string.ts). Unknown:
 * the place, the fault's resistance, the healthy leakage, and per reading the errors of meter and light. All are
 * integrated out (nodes.ts), so the probabilities are calibrated within the model. Not for strings under load.
 *
 * @returns a finding whatever the readings say; probabilities in 0…1, resistances in Ω with their 90 % interval
 * Check: checks/circuit-ngspice (the circuit), checks/finder-posterior (the integration), bench/finder (accuracy)
 */
export function locate(visit: Visit): Finding {
  const bench = benchOf(visit);
  const kept = withoutOutvoted(visit, bench);
  const problem = problemOf(kept.visit, bench);
  const fit = fitOf(problem);
  const posterior = posteriorOf(problem);
  const severalFaults = fit.consistent && posterior.hypotheses.two >= COMMIT.moreThanOne;
  const probabilities = severalFaults ? separatePlaces(problem) : posterior.places;
  const ranked = rankPlaces(problem.places, probabilities);
  const insulation = insulationOf(problem);
  const insulationAtLeastOhms = Math.max(0, ...insulation.map(({ low }) => low));
  const declined = declinedBy(visit);
  const judgement = judge(posterior, ranked, {
    fit,
    declined,
    insulationAtLeastOhms,
  });
  const set = credibleSet(ranked);
  const doubts = doubtsAbout(problem.visit);
  return {
    format: "earthbell.finding/1",
    ...judgement,
    insulation,
    places: namedPlaces(ranked, posterior.hypotheses.one + posterior.hypotheses.two),
    credible: {
      level: COMMIT.credibleLevel,
      places: set.map(({ place }) => ({ string: place.stringId, at: place.at })),
    },
    faultResistance: faultResistanceOf(posterior),
    hypotheses: hypothesesOf(posterior),
    handRule: handRules(kept.visit),
    next:
      declined?.planned === false
        ? []
        : planNext({ problem, posterior, ranked, verdict: judgement.verdict, fit }),
    suspect: fit.suspects,
    codes: codesOf(declined, fit, doubts),
    warnings: [
      ...bench.warnings,
      ...kept.warnings,
      ...doubts.map(({ code, says }) => `${says} [${code}]`),
      ...warningsOf(problem, fit),
    ],
  };
}

function codesOf(declined: Declined | null, fit: Fit, doubts: readonly ReadingDoubt[]): Finding["codes"] {
  const found = [...(declined ? [declined] : []), ...fit.suspects, ...doubts];
  return [...new Set(found.map(({ code }) => code))];
}

/** Places with their probability of being damaged, whether or not there is a fault: on a sound string none is likely. */
function namedPlaces(ranked: readonly Ranked[], fault: number): PlaceProbability[] {
  return ranked
    .map(({ place, probability }) => ({
      string: place.stringId,
      at: place.at,
      what: place.what,
      label: place.label,
      probability: fault * probability,
    }))
    .filter(({ probability }) => probability >= NAMED);
}

function hypothesesOf({ hypotheses }: Posterior): Finding["hypotheses"] {
  return [
    { faults: 1, what: "one damaged place", probability: hypotheses.one },
    { faults: 0, what: "healthy leakage only", probability: hypotheses.none },
    { faults: 2, what: "two damaged places", probability: hypotheses.two },
    { faults: 0, what: "wetness spread over the string", probability: hypotheses.wetness },
  ].sort((a, b) => b.probability - a.probability);
}

/** Insulation of every string or circuit that was measured whole: all its leaks in parallel. */
function insulationOf(problem: Problem): Finding["insulation"] {
  return problem.measured.flatMap(({ configuration, table }) => {
    const whole = configuration.parts.every((part) => !part.cut);
    const complete =
      problem.visit.circuits.find((circuit) => circuit.id === configuration.on)?.strings.length ?? 1;
    if (!whole || configuration.parts.length !== complete) return [];
    const sample = Array.from(table.lnG, (lnG, i): WeightedLog => {
      const width = ((table.lnG[i + 1] ?? lnG) - (table.lnG[i - 1] ?? lnG)) / 2;
      return { ln: -lnG, lnMass: table.peak[i]! + 0.5 * Math.log(table.variance[i]!) + Math.log(width) };
    });
    const interval = intervalOf(sample)!;
    return [{ string: configuration.on, ohms: interval.middle, low: interval.low, high: interval.high }];
  });
}

function faultResistanceOf(posterior: Posterior): Finding["faultResistance"] {
  if (posterior.hypotheses.one + posterior.hypotheses.two < 0.5) return null;
  // Strings that every reading sees alike share their nodes, which then count once for each.
  const shared = new Map<ClassEvidence["nodes"], number>();
  for (const { nodes } of posterior.classes) shared.set(nodes, (shared.get(nodes) ?? 0) + 1);
  const sample = [...shared].flatMap(([nodes, count]) =>
    nodes.map((node): WeightedLog => ({ ln: -Math.log(node.fault), lnMass: node.lnMass + Math.log(count) })),
  );
  const interval = intervalOf(sample);
  return interval && { ohms: interval.middle, low: interval.low, high: interval.high };
}

function warningsOf(problem: Problem, fit: Fit): string[] {
  const warnings: string[] = [];
  const { visit } = problem;
  if (!visit.readings.some((reading) => reading.kind === "voltage" && reading.to !== "earth"))
    warnings.push(
      "no + to − reading: the open-circuit voltage is taken from the file or guessed, and the insulation with it",
    );
  if (
    fit.consistent &&
    !problem.measured.some(({ configuration }) => configuration.parts.some((part) => part.cut))
  )
    warnings.push(
      "an intact string cannot tell one fault from two either side of it; the readings at the confirming opening can",
    );
  if (visit.priors && problem.weights !== visit.priors)
    warnings.push("the weights of places leave this wiring without a possible place: the defaults are used");
  for (const circuit of visit.circuits) {
    const lengths = new Set(
      circuit.strings.map((id) => visit.strings.find((spec) => spec.id === id)?.modules),
    );
    if (lengths.size > 1)
      warnings.push(
        `${circuit.id}: strings of unequal length in parallel drive a current around; isolate them and measure each alone`,
      );
  }
  return warnings;
}
