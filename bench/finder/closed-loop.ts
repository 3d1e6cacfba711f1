import {
  type Finding,
  type Random,
  type Reading,
  type RequestedReading,
  type Truth,
  type DrawnScenario,
  drawTruth,
  firstRequests,
  locate,
  measure,
  visitOf,
} from "@earthbell/engine";

export interface Walk {
  readonly truth: Truth;
  readonly first: Finding;
  readonly last: Finding;
  readonly findings: readonly Finding[];
  readonly openings: number;
  readonly isolations: number;
  readonly minutes: number;
  readonly milliseconds: readonly number[];
  readonly readings: readonly Reading[];
}

const MOST_STEPS = 16;

/** Follows the plan's first step until there is none, answering every reading it asks for. */
export function walk(drawn: DrawnScenario, random: Random, steps = MOST_STEPS): Walk {
  const truth = drawTruth(drawn.scenario, random);
  const take = (requests: readonly RequestedReading[]): Reading[] =>
    requests.map((request) => measure(truth, request, random));
  let readings = take(firstRequests(drawn.on));
  const findings: Finding[] = [];
  const milliseconds: number[] = [];
  let openings = 0;
  let isolations = 0;
  let minutes = 0;
  for (let step = 0; step <= steps; step++) {
    const started = performance.now();
    const finding = locate(visitOf(drawn.scenario, readings));
    milliseconds.push(performance.now() - started);
    findings.push(finding);
    const next = finding.next[0];
    if (!next || next.readings.length === 0 || step === steps) break;
    if (next.action === "confirm" || next.action === "open-connector") openings++;
    if (next.action === "isolate-string") isolations++;
    minutes += next.minutes;
    readings = [...readings, ...take(next.readings)];
  }
  return {
    truth,
    first: findings[0]!,
    last: findings[findings.length - 1]!,
    findings,
    openings,
    isolations,
    minutes,
    milliseconds,
    readings,
  };
}

/** The faults' places as a finding names them. */
export function trueAt(drawn: DrawnScenario): { readonly string: string; readonly at: number }[] {
  return drawn.scenario.faults.flatMap((fault) =>
    "at" in fault ? [{ string: fault.string, at: fault.at }] : [],
  );
}
