import {
  configurationOf,
  connectionKey,
  healthyCentroid,
  partsOf,
  type Configuration,
} from "../configuration.ts";
import type { RequestedReading } from "../finding.ts";
import { clampMeasurement, clampResponse } from "../leakage-clamp.ts";
import { poleEarthOf } from "../functional-earth.ts";
import { busIndex, nodeShares } from "../places.ts";
import type { PoleEarth } from "../reading-response.ts";
import type { Amperes, Ohms } from "../../quantity/index.ts";
import { DEFAULTS } from "../priors.ts";
import { circuitLeak, type Problem } from "../problem.ts";
import type { Scenario, ScenarioLeak } from "./scenarios.ts";

/** What an asked-for reading would show in a scenario, and its standard deviation. */
interface Prediction {
  readonly value: number;
  readonly sd: number;
}

/** Numbers of a requested reading that do not depend on the scenario. */
export interface PreparedReading {
  readonly configuration: Configuration;
  readonly healthyShare: number;
  readonly nodeShares: readonly Float64Array[];
  /** Stands for the combiner bus of the circuit that is read; null where a string is read. */
  readonly bus: number | null;
  readonly volts: number;
  readonly request: RequestedReading;
  readonly meterSiemens: number;
  readonly shuntSiemens: number;
  readonly testVolts: number;
  readonly relativeSd: number;
  readonly floor: number;
  readonly mismatch: number;
  readonly earth: PoleEarth;
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
  const circuit = visit.circuits.findIndex(({ id }) => id === request.on);
  return {
    configuration,
    healthyShare: healthyCentroid(visit.strings, configuration),
    nodeShares: parts.map((part) => nodeShares(visit.strings[part.string]!)),
    bus: circuit < 0 ? null : busIndex(circuit),
    volts: problem.level.volts * configuration.nominal,
    request,
    meterSiemens: meter?.inputSiemens ?? 0,
    shuntSiemens: units.shuntOhms === undefined ? 0 : 1 / units.shuntOhms,
    testVolts: units.testVolts ?? 0,
    relativeSd: tester ? tester.reading : Math.hypot(meter?.reading ?? DEFAULTS.meterReading, bench.drift),
    floor: tester ? tester.floorOhms : (meter?.floorVolts ?? DEFAULTS.meterFloorVolts),
    mismatch: bench.mismatch,
    earth: poleEarthOf(visit, configuration),
  };
}

/** One asked-for reading over all scenarios. */
export interface Predictions {
  readonly values: Float64Array;
  readonly variances: Float64Array;
}

export function predictAll(prepared: PreparedReading, scenarios: readonly Scenario[]): Predictions {
  const values = new Float64Array(scenarios.length);
  const variances = new Float64Array(scenarios.length);
  scenarios.forEach((scenario, i) => {
    const { value, sd } = predict(prepared, scenario);
    values[i] = value;
    variances[i] = sd * sd;
  });
  return { values, variances };
}

function predict(prepared: PreparedReading, scenario: Scenario): Prediction {
  const { configuration, request } = prepared;
  const V = prepared.volts;
  if (request.to === "-") return { value: V, sd: Math.hypot(V * prepared.relativeSd, prepared.floor) };
  const healthy = scenario.g * configuration.moduleCount;
  // A functional earth through a resistor is a leak like any other, at its pole.
  let G = healthy + prepared.earth.minus + prepared.earth.plus;
  let moment = healthy * (prepared.healthyShare + scenario.tilt) + prepared.earth.plus;
  let misplaced = 0;
  const modules = configuration.moduleCount / Math.max(1, configuration.parts.length);
  for (const leak of scenario.leaks) {
    const share = shareIn(prepared, leak);
    if (share === null) continue;
    G += leak.siemens;
    moment += leak.siemens * share;
    misplaced = Math.max(
      misplaced,
      V * prepared.mismatch * Math.sqrt(Math.max(0, share * (1 - share)) / modules),
    );
  }
  const u = (moment / G) * V;
  if (prepared.testVolts !== 0) return predictTester(prepared, G, u);
  const value =
    ((request.from === "-" ? u : V - u) * G) / (G + prepared.meterSiemens + prepared.shuntSiemens);
  return { value, sd: Math.hypot(value * prepared.relativeSd, prepared.floor, misplaced) };
}

/** A tester's figure is compared on a logarithmic scale, where its error is even. */
function predictTester(
  { request, volts, testVolts, relativeSd, floor }: PreparedReading,
  G: number,
  u: number,
): Prediction {
  const conductance = Math.max(1e-12, G * (1 - ((request.from === "+" ? volts : 0) - u) / testVolts));
  return { value: -Math.log(conductance), sd: Math.hypot(relativeSd, floor * conductance) };
}

/** A leak's place as a share of the configuration's voltage; null when the configuration does not hold it. */
function shareIn(prepared: PreparedReading, leak: ScenarioLeak): number | null {
  if (leak.string < 0) return leak.string === prepared.bus ? leak.share : null;
  for (const [i, part] of prepared.configuration.parts.entries()) {
    if (part.string !== leak.string || leak.at < part.fromNode || leak.at > part.toNode) continue;
    const shares = prepared.nodeShares[i]!;
    if (part.cut && leak.at === part.fromNode && !leak.staysAbove) return null;
    if (part.cut && leak.at === part.toNode && leak.staysAbove) return null;
    const from = shares[part.fromNode]!;
    return (leak.share - from) / (shares[part.toNode]! - from);
  }
  return null;
}

/** What a leakage clamp would show on one string of a joined circuit, over all scenarios. */
export function predictClamp(
  problem: Problem,
  request: RequestedReading,
  shuntOhms: number,
  scenarios: readonly Scenario[],
): Predictions {
  const asked = {
    ...request,
    kind: "leakage",
    to: "earth",
    circuit: request.circuit!,
    shunt: shuntOhms as Ohms,
    value: 0 as Amperes,
  } as const;
  const unlike = { lopsided: problem.lopsided, spread: problem.leakageSpread };
  const circuit = circuitLeak(problem.measured, asked.circuit);
  const clamp = clampMeasurement(problem.visit, problem.bench, problem.level.volts, unlike, circuit, asked);
  const model = problem.bench.clamps.get(request.with)!;
  const values = new Float64Array(scenarios.length);
  const variances = new Float64Array(scenarios.length);
  scenarios.forEach((scenario, i) => {
    const { constant, slopes } = clampResponse(clamp, scenario.g, scenario.leaks);
    // The clamp tells the size of the current and not its sense.
    const amperes = Math.abs(
      scenario.leaks.reduce((sum, leak, l) => sum + slopes[l]! * leak.share, constant),
    );
    values[i] = amperes;
    variances[i] = (amperes * Math.hypot(model.reading, problem.bench.drift)) ** 2 + model.floorAmperes ** 2;
  });
  return { values, variances };
}

export function configurationKey(
  problem: Problem,
  request: Pick<RequestedReading, "on" | "segment" | "isolated">,
): string {
  return connectionKey(problem.visit, request);
}
