import { isThroughDiodes } from "../through-diodes.ts";
import type { RequestedReading, Step } from "../finding.ts";
import { DEFAULTS } from "../priors.ts";
import type { Problem } from "../problem.ts";
import type { Ranked } from "../verdict.ts";
import { earthOn } from "../configuration.ts";
import { configurationKey } from "./predict.ts";

/** A step that could be taken, before its worth is known. */
export interface Candidate {
  readonly action: Step["action"];
  readonly string: string;
  readonly at?: number;
  readonly group?: readonly string[];
  readonly minutes: number;
  readonly readings: readonly RequestedReading[];
  readonly why: string;
}

const SHUNT_OHMS = 100e3;
/** Beyond the first string of a group, each further one is a switch beside it (design choice). */
const FURTHER_STRING_SHARE = 0.1;

interface Costs {
  readonly openConnector: number;
  readonly isolateString: number;
  readonly reading: number;
  readonly waitDry: number;
}

export function costsOf(problem: Problem): Costs {
  return { ...DEFAULTS.costs, ...problem.visit.costs };
}

/** The shunt that the visit has used, else the usual one. */
export function shuntOf(problem: Problem): number {
  for (const reading of problem.visit.readings)
    if (reading.kind === "voltage" && reading.shunt !== undefined) return reading.shunt;
  return SHUNT_OHMS;
}

function meterName(problem: Problem): string {
  return problem.bench.meters.keys().next().value ?? "meter";
}

/** The full set on one connection: + to −, each pole to earth, each pole again with the shunt. */
function fullSet(
  problem: Problem,
  where: Pick<RequestedReading, "on" | "segment" | "isolated">,
): RequestedReading[] {
  const meter = { with: meterName(problem), ...where };
  const shunt = `${String(shuntOf(problem) / 1000)} kΩ`;
  return [
    { ...meter, from: "+", to: "-" },
    { ...meter, from: "+", to: "earth" },
    { ...meter, from: "-", to: "earth" },
    { ...meter, from: "+", to: "earth", shunt },
    { ...meter, from: "-", to: "earth", shunt },
  ];
}

/** Readings of the full set that the visit lacks on the connection that is in place, and the tester's if there is one. */
export function readingCandidates(problem: Problem): Candidate[] {
  const where = currentConnection(problem);
  if (!where) return [];
  const { reading } = costsOf(problem);
  const missing = missingReadings(problem, where);
  const plain = missing.filter((wanted) => wanted.shunt === undefined);
  const shunted = missing.filter((wanted) => wanted.shunt !== undefined);
  const candidate = (action: Candidate["action"], readings: RequestedReading[], why: string): Candidate[] =>
    readings.length === 0
      ? []
      : [{ action, string: where.on, minutes: readings.length * reading, readings, why }];
  return [
    ...candidate("read", plain, "completes the plain set of readings"),
    ...candidate(
      "read-with-shunt",
      shunted,
      "a known resistor across the meter measures a low insulation that the meter alone cannot",
    ),
    ...candidate(
      "tester",
      testerReading(problem, where),
      "the tester gives the insulation of all leaks together",
    ),
  ];
}

type Connection = Pick<RequestedReading, "on" | "isolated">;

function missingReadings(problem: Problem, where: Connection): RequestedReading[] {
  const name = (reading: { from: string; to: string; on: string; shunt?: unknown }): string =>
    `${configurationKey(problem, reading)} ${reading.from} ${reading.to} ${String(reading.shunt !== undefined)}`;
  const have = new Set(problem.visit.readings.map(name));
  return fullSet(problem, where).filter((wanted) => !have.has(name(wanted)));
}

/** Above this the usual test voltage is 1,000 V (IEC 62446-1 by system voltage; see limits/). */
const HIGH_TEST_ABOVE_V = 500;

function testerReading(problem: Problem, where: Connection): RequestedReading[] {
  const tester = problem.bench.testers.keys().next().value;
  const key = configurationKey(problem, where);
  const tested = problem.visit.readings.some(
    (taken) => taken.kind === "insulation" && configurationKey(problem, taken) === key,
  );
  if (tester === undefined || tested) return [];
  const volts = problem.level.volts * (problem.measured[0]?.configuration.nominal ?? 0);
  return [
    {
      with: tester,
      ...where,
      from: "-",
      to: "earth",
      testVoltage: `${String(volts > HIGH_TEST_ABOVE_V ? 1000 : 500)} V`,
    },
  ];
}

/** The whole string or circuit that was read last; before the first reading, the first circuit as it stands. */
function currentConnection({ visit }: Problem): Connection | null {
  const usable = visit.readings.filter((reading) => !isThroughDiodes(visit, reading));
  if (usable.length === 0) {
    const first = visit.circuits[0] ?? visit.strings[0];
    return first === undefined || visit.circuits[0]?.blockingDiodes === true ? null : { on: first.id };
  }
  const last = usable.findLast((reading) => reading.segment === undefined);
  if (!last) return null;
  // With a clamp around one string it is the circuit that is connected.
  const on = last.kind === "leakage" ? last.circuit : last.on;
  return last.isolated === undefined ? { on } : { on, isolated: last.isolated };
}

/** Opening one connector of a string and reading both halves. */
export function openingCandidate(
  problem: Problem,
  stringIndex: number,
  node: number,
  why: string,
): Candidate {
  const spec = problem.visit.strings[stringIndex]!;
  const [low, high] = neighbours(problem, stringIndex, node);
  const segments: [number, number][] =
    node === low || node === high
      ? [[low, high]]
      : [
          [low, node],
          [node, high],
        ];
  const readings = segments.flatMap((segment) => fullSet(problem, { on: spec.id, segment }));
  const { openConnector, reading } = costsOf(problem);
  return {
    action: "open-connector",
    string: spec.id,
    at: node,
    minutes: openConnector + readings.length * reading,
    readings,
    why,
  };
}

/** The stretch between opened connectors in which a node lies; the ends of the string bound it. */
function neighbours(problem: Problem, stringIndex: number, node: number): [number, number] {
  let low = 0;
  let high = problem.visit.strings[stringIndex]!.modules;
  for (const opened of openedNodes(problem, stringIndex)) {
    if (opened < node && opened > low) low = opened;
    if (opened > node && opened < high) high = opened;
  }
  return [low, high];
}

export function openedNodes(problem: Problem, stringIndex: number): Set<number> {
  const nodes = new Set<number>();
  for (const { configuration } of problem.measured)
    for (const part of configuration.parts)
      if (part.string === stringIndex && part.cut) nodes.add(part.fromNode).add(part.toNode);
  return nodes;
}

/** Isolating strings of a circuit: the half that holds half the suspicion, and the first suspect by itself. */
export function isolationCandidates(problem: Problem, ranked: readonly Ranked[]): Candidate[] {
  return problem.visit.circuits.flatMap((circuit) => {
    const mass = circuit.strings.map((id) => ({
      id,
      // Rounded, so that strings that every reading sees alike stay in the order of the file.
      mass: rounded(
        sum(ranked.filter(({ place }) => place.stringId === id).map(({ probability }) => probability)),
      ),
    }));
    mass.sort((a, b) => b.mass - a.mass);
    const total = sum(mass.map((entry) => entry.mass));
    if (total < 0.05) return [];
    const suspects = mass.filter((entry) => entry.mass > 0.003 * total);
    const alone = measuredAlone(problem, suspects[0]!.id) ? [] : [aloneCandidate(problem, suspects[0]!.id)];
    // Through a diode a joined circuit tells nothing sure, so each string is read alone.
    if (suspects.length <= 2 || circuit.blockingDiodes === true) return alone;
    const half = halfOf(suspects);
    const others = circuit.strings.filter((id) => !half.includes(id));
    const leaveHalf =
      suspects.length < circuit.strings.length
        ? [groupCandidate(problem, circuit.id, others, `leave only ${half.join(", ")} on the circuit`)]
        : [];
    const why = `take ${String(half.length)} strings off the circuit and see whether the leak goes with them`;
    return [...alone, groupCandidate(problem, circuit.id, half, why), ...leaveHalf];
  });
}

/** The likeliest strings that together hold half of the suspicion. */
function halfOf(suspects: readonly { id: string; mass: number }[]): string[] {
  const total = sum(suspects.map(({ mass }) => mass));
  const half: string[] = [];
  let held = 0;
  for (const { id, mass } of suspects) {
    if (rounded(held) >= rounded(total / 2) || half.length >= suspects.length - 1) break;
    half.push(id);
    held += mass;
  }
  return half;
}

function isolationMinutes(problem: Problem, count: number): number {
  const { isolateString, reading } = costsOf(problem);
  return isolateString * (1 + FURTHER_STRING_SHARE * (count - 1)) + 5 * reading;
}

/** Before any reading that counts, where the circuit's strings have diodes: the first string by itself. */
export function firstBehindDiodes(problem: Problem): Candidate[] {
  const circuit = problem.visit.circuits[0];
  return circuit?.blockingDiodes === true ? [aloneCandidate(problem, circuit.strings[0]!)] : [];
}

function aloneCandidate(problem: Problem, id: string): Candidate {
  const why = `${id} is read by itself`;
  return {
    action: "isolate-string",
    string: id,
    group: [id],
    minutes: isolationMinutes(problem, 1),
    readings: fullSet(problem, { on: id }),
    why,
  };
}

function groupCandidate(problem: Problem, circuit: string, group: readonly string[], why: string): Candidate {
  const readings = fullSet(problem, { on: circuit, isolated: group });
  return {
    action: "isolate-string",
    string: group[0]!,
    group,
    minutes: isolationMinutes(problem, group.length),
    readings,
    why,
  };
}

/** The clamp on every suspected string of a joined circuit: which one carries the leak, without isolating any. */
export function clampCandidates(problem: Problem, ranked: readonly Ranked[]): Candidate[] {
  const clamp = problem.bench.clamps.keys().next().value;
  if (clamp === undefined) return [];
  return problem.visit.circuits.flatMap((circuit) => {
    if (circuit.blockingDiodes === true) return [];
    const clamped = new Set(
      problem.visit.readings.flatMap((reading) => (reading.kind === "leakage" ? [reading.on] : [])),
    );
    const suspects = circuit.strings.filter(
      (id) =>
        !clamped.has(id) &&
        ranked.some(({ place, probability }) => place.stringId === id && probability > 0.002),
    );
    if (suspects.length < 2) return [];
    const shunt = `${String(shuntOf(problem) / 1000)} kΩ`;
    // Where a functional earth is closed, the resistor goes to the pole that it holds.
    const from = earthOn(problem.visit, circuit.id, false)?.pole ?? "-";
    const readings = suspects.map(
      (on): RequestedReading => ({ with: clamp, on, circuit: circuit.id, from, to: "earth", shunt }),
    );
    const minutes = readings.length * costsOf(problem).reading;
    const why = "the clamp shows which string the leak leaves, with the circuit still joined";
    return [{ action: "read-with-shunt", string: circuit.id, minutes, readings, why }];
  });
}

/** Whether a string was read apart from all others and from a functional earth. */
export function measuredAlone({ measured, visit }: Problem, id: string): boolean {
  return measured.some(({ configuration: { on, parts } }) => {
    const [part] = parts;
    const isAlone = parts.length === 1 && visit.strings[part!.string]!.id === id;
    return isAlone && (on === id || earthOn(visit, on, part!.cut) === null);
  });
}

/** To nine digits: finer differences of probability are of the order in which they were summed. */
function rounded(value: number): number {
  return Math.round(value * 1e9) / 1e9;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
