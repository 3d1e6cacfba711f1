import { configurationOf, healthyCentroid, partsKey, partsOf, type Configuration } from "../configuration.ts";
import type { RequestedReading } from "../finding.ts";
import { nodeShares } from "../places.ts";
import { DEFAULTS } from "../priors.ts";
import type { Problem } from "../problem.ts";
import type { Scenario } from "./scenarios.ts";

/** What an asked-for reading would show in a scenario, and its standard deviation. */
export interface Prediction {
  readonly value: number;
  readonly sd: number;
}

/** Numbers of a requested reading that do not depend on the scenario. */
export interface PreparedReading {
  readonly configuration: Configuration;
  readonly healthyShare: number;
  readonly nodeShares: readonly Float64Array[];
  readonly busSeen: boolean;
  readonly volts: number;
  readonly request: RequestedReading;
  readonly meterSiemens: number;
  readonly shuntSiemens: number;
  readonly testVolts: number;
  readonly relativeSd: number;
  readonly floor: number;
  readonly mismatch: number;
}

export function prepare(
  problem: Problem,
  request: RequestedReading,
  units: { shuntOhms?: number; testVolts?: number },
): PreparedReading {
  const { visit, bench } = problem;
  const parts = partsOf(visit, request);
  const configuration = configurationOf(visit.strings, request.on, parts, []);
  const meter = bench.meters.get(request.with);
  const tester = bench.testers.get(request.with);
  return {
    configuration,
    healthyShare: healthyCentroid(visit.strings, configuration),
    nodeShares: parts.map((part) => nodeShares(visit.strings[part.string]!)),
    busSeen: visit.circuits.some((circuit) => circuit.id === request.on),
    volts: problem.level.volts * configuration.nominal,
    request,
    meterSiemens: meter?.inputSiemens ?? 0,
    shuntSiemens: units.shuntOhms === undefined ? 0 : 1 / units.shuntOhms,
    testVolts: units.testVolts ?? 0,
    relativeSd: tester ? tester.reading : Math.hypot(meter?.reading ?? DEFAULTS.meterReading, bench.drift),
    floor: tester ? tester.floorOhms : (meter?.floorVolts ?? DEFAULTS.meterFloorVolts),
    mismatch: bench.mismatch,
  };
}

export function predict(prepared: PreparedReading, scenario: Scenario): Prediction {
  const { configuration, request } = prepared;
  const V = prepared.volts;
  if (request.to === "-") return { value: V, sd: Math.hypot(V * prepared.relativeSd, prepared.floor) };
  const healthy = scenario.g * configuration.moduleCount;
  let G = healthy;
  let moment = healthy * prepared.healthyShare;
  const share = shareIn(prepared, scenario);
  if (share !== null) {
    G += scenario.fault;
    moment += scenario.fault * share;
  }
  const u = (moment / G) * V;
  if (prepared.testVolts !== 0) {
    const conductance = Math.max(1e-12, G * (1 - ((request.from === "+" ? V : 0) - u) / prepared.testVolts));
    const ohms = 1 / conductance;
    return { value: Math.log(ohms), sd: Math.hypot(prepared.relativeSd, prepared.floor / ohms) };
  }
  const value =
    ((request.from === "-" ? u : V - u) * G) / (G + prepared.meterSiemens + prepared.shuntSiemens);
  const modules = configuration.moduleCount / Math.max(1, configuration.parts.length);
  const misplaced =
    share === null
      ? 0
      : (V * prepared.mismatch * Math.sqrt(Math.max(0, share * (1 - share)) / modules) * scenario.fault) /
        (G + prepared.meterSiemens);
  return { value, sd: Math.hypot(value * prepared.relativeSd, prepared.floor, misplaced) };
}

/** The fault's place as a share of the configuration's voltage; null when the configuration does not hold it. */
function shareIn(prepared: PreparedReading, scenario: Scenario): number | null {
  if (scenario.place < 0) return null;
  if (scenario.string < 0) return prepared.busSeen ? scenario.share : null;
  for (const [i, part] of prepared.configuration.parts.entries()) {
    if (part.string !== scenario.string || scenario.at < part.fromNode || scenario.at > part.toNode) continue;
    const shares = prepared.nodeShares[i]!;
    if (part.cut && scenario.at === part.fromNode && !scenario.staysAbove) return null;
    if (part.cut && scenario.at === part.toNode && scenario.staysAbove) return null;
    const from = shares[part.fromNode]!;
    return (scenario.share - from) / (shares[part.toNode]! - from);
  }
  return null;
}

export function configurationKey(
  problem: Problem,
  request: Pick<RequestedReading, "on" | "segment" | "isolated">,
): string {
  return partsKey(partsOf(problem.visit, request));
}
