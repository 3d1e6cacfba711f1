import type { Step } from "../finding.ts";
import type { Fit } from "../fit.ts";
import type { Posterior } from "../posterior.ts";
import type { Problem } from "../problem.ts";
import { preconditionsFor } from "../../safety/index.ts";
import type { Ranked } from "../verdict.ts";
import type { Verdict } from "../finding.ts";
import {
  clampCandidates,
  costsOf,
  firstBehindDiodes,
  isolationCandidates,
  measuredAlone,
  openedNodes,
  openingCandidate,
  readingCandidates,
  shuntOf,
  type Candidate,
} from "./actions.ts";
import { expectedGain } from "./gain.ts";
import { predictAll, predictClamp, prepare } from "./predict.ts";
import { scenariosOf, type Scenario } from "./scenarios.ts";

export interface PlanInput {
  readonly problem: Problem;
  readonly posterior: Posterior;
  readonly ranked: readonly Ranked[];
  readonly verdict: Verdict;
  readonly fit: Fit;
}

/** A step that promises less than this is not worth going up for. */
const WORTHLESS_BITS = 0.02;
const MAX_STEPS = 6;

/**
 * The next steps, best first by information per minute. A place that is certain enough is confirmed rather than
 * measured on: the opening there is needed for the repair anyway. An empty plan means the finding stands as it is.
 */
export function planNext(input: PlanInput): Step[] {
  const { problem, posterior, verdict } = input;
  if (!input.fit.consistent) return rereadings(input);
  if (verdict === "no-fault") return [];
  if (verdict === "located" && isConfirmed(input)) return [];
  const confirmation = confirmationOf(input);
  const scenarios = scenariosOf(problem, posterior);
  const weights = Float64Array.from(scenarios, (scenario) => scenario.weight);
  const priced = candidatesOf(input, confirmation)
    .map((candidate) => ({ candidate, bits: gainOf(problem, scenarios, weights, candidate) }))
    .filter(({ candidate, bits }) => bits > WORTHLESS_BITS || isNeededAnyway(input, candidate))
    .sort((a, b) => b.bits / b.candidate.minutes - a.bits / a.candidate.minutes);
  if (verdict === "located") putFirst(priced, preparationOf(input) ?? "confirm");
  return priced.slice(0, MAX_STEPS).map(({ candidate, bits }) => stepOf(problem, candidate, bits));
}

function stepOf(problem: Problem, candidate: Candidate, bits: number): Step {
  const charged = mayBeCharged(problem);
  const requires = preconditionsFor(candidate.action).filter((id) => charged || id !== "charge-discharged");
  return { ...candidate, bits, requires };
}

/**
 * Whether a test of this visit may have left a charge: something in the bag forces a voltage onto the array, a reading says
 * that something did, or nobody said what is in the bag. The caution about charge is shown all the same.
 */
function mayBeCharged({ visit, bench }: Problem): boolean {
  const tested = visit.readings.some(({ kind }) => kind === "insulation");
  return tested || visit.instruments.length === 0 || bench.testers.size > 0;
}

/** The string named must stand alone and be read alone before a connector of it is opened. */
function preparationOf({ problem, ranked }: PlanInput): string | null {
  const place = ranked[0]!.place;
  return place.string < 0 || mayOpen(problem, place.stringId) ? null : place.stringId;
}

/** Steps that the repair needs whatever they tell: the confirming opening, what must come before it, and a dry roof. */
function isNeededAnyway(input: PlanInput, candidate: Candidate): boolean {
  return candidate.action === "confirm" || candidate.action === "wait-dry" || isPreparation(input, candidate);
}

function isPreparation(input: PlanInput, candidate: Candidate): boolean {
  return (
    input.verdict === "located" &&
    candidate.group?.length === 1 &&
    candidate.group[0] === preparationOf(input)
  );
}

/** Moves the confirmation, or the isolation that must come before it, to the front: measuring on would cost more. */
function putFirst(priced: { candidate: Candidate; bits: number }[], wanted: string): void {
  const index = priced.findIndex(({ candidate }) =>
    wanted === "confirm"
      ? candidate.action === "confirm"
      : candidate.group?.length === 1 && candidate.group[0] === wanted,
  );
  if (index > 0) priced.unshift(...priced.splice(index, 1));
}

function candidatesOf(input: PlanInput, confirmation: Candidate | null): Candidate[] {
  const { problem, ranked, verdict } = input;
  // Before the first reading there is nothing to isolate or open for, and no voltage to choose a tester's by.
  if (problem.measured.length === 0 && problem.clamps.length === 0)
    return [
      ...readingCandidates(problem).filter(({ action }) => action === "read"),
      ...firstBehindDiodes(problem),
    ];
  const candidates = [
    ...readingCandidates(problem),
    ...clampCandidates(problem, ranked),
    ...isolationCandidates(problem, ranked),
  ];
  if (confirmation) candidates.push(confirmation);
  for (const [string, spec] of problem.visit.strings.entries()) {
    if (!mayOpen(problem, spec.id) || !mayClimb(problem)) continue;
    const opened = openedNodes(problem, string);
    const suspicion = ranked.filter(
      ({ place, probability }) => place.string === string && probability > 0.004,
    );
    const nodes = new Set(
      suspicion.flatMap(({ place }) => [
        Math.floor(place.at),
        Math.ceil(place.at),
        Math.ceil(place.at) + 1,
        Math.floor(place.at) - 1,
      ]),
    );
    for (const node of nodes)
      if (node > 0 && node < spec.modules && !opened.has(node) && node !== confirmation?.at)
        candidates.push(openingCandidate(problem, string, node, "splits the places that are left"));
  }
  if (problem.bench.wet && verdict !== "more-than-one") candidates.push(waitDry(problem));
  return candidates;
}

/** On a wet roof nothing is opened, unless somebody recorded that the way is dry and secured all the same. */
function mayClimb({ bench, visit }: Problem): boolean {
  return !bench.wet || (visit.recorded?.includes("access-safe") ?? false);
}

/** Connectors of a string are opened only once the string stands alone. */
function mayOpen(problem: Problem, id: string): boolean {
  return (
    !problem.visit.circuits.some((circuit) => circuit.strings.includes(id)) || measuredAlone(problem, id)
  );
}

/** Whether the connector at the place named, or beside it, has been opened and read. */
function isConfirmed({ problem, ranked }: PlanInput): boolean {
  const place = ranked[0]!.place;
  if (place.string < 0) return false;
  const opened = openedNodes(problem, place.string);
  return [Math.floor(place.at), Math.ceil(place.at), nodeToOpen(problem, ranked[0]!)].some((node) =>
    opened.has(node),
  );
}

/** The opening at the place the finding names, where its string may be opened and it was not opened yet. */
function confirmationOf(input: PlanInput): Candidate | null {
  const { problem, ranked, verdict } = input;
  const top = ranked[0]!;
  if (
    top.place.string < 0 ||
    !mayOpen(problem, top.place.stringId) ||
    !mayClimb(problem) ||
    top.probability < 0.3 ||
    isConfirmed(input)
  )
    return null;
  const opens =
    top.place.what === "home-run"
      ? "opens the end connector: a string that then reads sound has its damage in the home run"
      : "opens the connector at the likeliest place";
  const cost =
    verdict === "located" ? "measuring on would cost more" : "it settles more than another reading would";
  const why = `${opens}; ${cost}`;
  const opening = openingCandidate(problem, top.place.string, nodeToOpen(problem, top), why);
  return top.probability >= 0.5 ? { ...opening, action: "confirm" } : opening;
}

/** The connector to open for a place: the junction itself, an end's own connector, the nearer side of a module. */
function nodeToOpen(problem: Problem, { place }: Ranked): number {
  const modules = problem.visit.strings[place.string]!.modules;
  if (place.what === "home-run" || modules === 1) return place.at < modules / 2 ? 0 : modules;
  return Math.min(modules - 1, Math.max(1, Math.round(place.at)));
}

function waitDry(problem: Problem): Candidate {
  const costs = costsOf(problem);
  const string = problem.visit.strings[0]!.id;
  return {
    action: "wait-dry",
    string,
    minutes: costs.waitDry,
    readings: [],
    why: "wet leakage hides a soft fault; dry, the fault stands out or is gone",
  };
}

function rereadings({ problem, fit }: PlanInput): Step[] {
  const cost = costsOf(problem).reading;
  return fit.suspects.map((suspect) => {
    const taken = problem.visit.readings[suspect.reading]!;
    const where = {
      with: taken.with,
      on: taken.on,
      ...(taken.segment ? { segment: taken.segment } : {}),
      ...(taken.isolated ? { isolated: taken.isolated } : {}),
    };
    const from = taken.from === "shorted" ? "-" : taken.from;
    const shunt =
      taken.kind === "voltage" && taken.shunt !== undefined
        ? { shunt: `${String(taken.shunt / 1000)} kΩ` }
        : {};
    const testVoltage = taken.kind === "insulation" ? { testVoltage: `${String(taken.testVoltage)} V` } : {};
    const readings = [{ ...where, from, to: taken.to, ...shunt, ...testVoltage }];
    return stepOf(
      problem,
      {
        action: shunt.shunt === undefined ? "read" : "read-with-shunt",
        string: taken.on,
        minutes: cost,
        readings,
        why: `${suspect.blunder}; ${suspect.settle}`,
      },
      1,
    );
  });
}

function gainOf(
  problem: Problem,
  scenarios: readonly Scenario[],
  weights: Float64Array,
  candidate: Candidate,
): number {
  if (candidate.action === "wait-dry") return dryingGain(problem, scenarios, weights);
  const predictions = candidate.readings.map((request) => {
    if (request.circuit !== undefined) return predictClamp(problem, request, shuntOf(problem), scenarios);
    const prepared = prepare(problem, request, {
      ...(request.shunt === undefined ? {} : { shuntOhms: shuntOf(problem) }),
      ...(request.testVoltage === undefined ? {} : { testVolts: Number.parseFloat(request.testVoltage) }),
    });
    return predictAll(prepared, scenarios);
  });
  return expectedGain(scenarios, weights, predictions).bits;
}

/** Dry, healthy leakage falls tenfold or more while a damaged place stays: the same readings then tell more. */
function dryingGain(problem: Problem, scenarios: readonly Scenario[], weights: Float64Array): number {
  const dry = scenarios.map((scenario) => ({ ...scenario, g: scenario.g / 10 }));
  const where = { on: problem.visit.readings[0]?.on ?? problem.visit.strings[0]!.id };
  const readings = [{ from: "+" as const }, { from: "-" as const }].map((end) => {
    const prepared = prepare(
      problem,
      { with: problem.bench.meters.keys().next().value ?? "meter", ...where, ...end, to: "earth" },
      {},
    );
    return predictAll(prepared, dry);
  });
  return expectedGain(dry, weights, readings).bits;
}
