import type { ArrayFault, ArrayString, ModuleSource, Side } from "../circuit/array-description.ts";
import { CircuitError } from "../circuit/circuit-error.ts";
import type { Random } from "./random.ts";
import type { Scenario, ScenarioFault, ScenarioString } from "./scenario.ts";

/** One instance of a scenario: what stays the same through a whole visit. */
export interface Truth {
  readonly scenario: Scenario;
  readonly strings: ReadonlyMap<string, ArrayString>;
  /** In the scenario's order, with the half that keeps the damage when its junction is opened. */
  readonly faults: readonly ArrayFault[];
  /** Circuit of a fault on the combiner bus; parallel to `faults`. */
  readonly faultCircuits: readonly (string | null)[];
  readonly meterInputOhms: number;
  /** True over marked resistance of the shunt. */
  readonly shuntRatio: number;
}

export function drawTruth(scenario: Scenario, random: Random): Truth {
  const strings = new Map<string, ArrayString>();
  for (const string of scenario.strings) strings.set(string.id, drawString(string, scenario, random));
  return {
    scenario,
    strings,
    faults: scenario.faults.map((fault) => drawFault(fault, scenario, strings, random)),
    faultCircuits: scenario.faults.map((fault) => ("circuit" in fault ? fault.circuit : null)),
    meterInputOhms: scenario.meter.inputOhms * (1 + scenario.meter.inputTolerance * random.normal()),
    shuntRatio: 1 + (scenario.shuntTolerance ?? 0) * random.normal(),
  };
}

function drawString(string: ScenarioString, scenario: Scenario, random: Random): ArrayString {
  const modules = Array.from({ length: string.modules }, () =>
    atLight(string.module, 1 + scenario.mismatch * random.normal()),
  );
  const leakOhms = string.moduleLeakOhms;
  const moduleLeaksS = modules.map((_, module) =>
    typeof leakOhms === "number" ? 1 / leakOhms : 1 / (leakOhms[module] ?? Infinity),
  );
  const { homeRunOhms } = string;
  return {
    id: string.id,
    modules,
    substrings: string.substrings ?? 3,
    moduleLeaksS,
    ...(homeRunOhms === undefined ? {} : { homeRunOhms }),
  };
}

function drawFault(
  fault: ScenarioFault,
  scenario: Scenario,
  strings: ReadonlyMap<string, ArrayString>,
  random: Random,
): ArrayFault {
  const { ohms } = fault;
  // Always one draw a fault, so that the stream does not depend on where faults are.
  const draw = random.uniform();
  if ("circuit" in fault) return { place: { bus: fault.pole }, ohms };
  if ("homeRun" in fault) return { place: { string: fault.string, homeRun: fault.homeRun }, ohms };
  const modules = strings.get(fault.string)?.modules.length;
  if (modules === undefined)
    throw new CircuitError(
      "CIRCUIT_PLACE_UNKNOWN",
      `fault on ${fault.string}; allowed: ${[...strings.keys()].join(", ")}`,
    );
  return {
    place: { string: fault.string, at: fault.at },
    ohms,
    staysWith: sideOf(fault.at, modules, draw, scenario.endGoesWithHomeRun ?? 0.5),
  };
}

function sideOf(at: number, modules: number, draw: number, endGoesWithHomeRun: number): Side {
  if (at === 0) return draw < endGoesWithHomeRun ? "below" : "above";
  if (at === modules) return draw < endGoesWithHomeRun ? "above" : "below";
  return draw < 0.5 ? "below" : "above";
}

/** The module with every voltage scaled by `factor`: other light, other temperature, other make. */
export function atLight(source: ModuleSource, factor: number): ModuleSource {
  if (source.kind === "linear") {
    const { openCircuitV, sourceOhms } = source;
    return { kind: "linear", openCircuitV: openCircuitV * factor, sourceOhms };
  }
  // Scaling the resistances along keeps the curve's shape at unchanged currents.
  return {
    ...source,
    slopeV: source.slopeV * factor,
    seriesOhms: source.seriesOhms * factor,
    shuntOhms: source.shuntOhms * factor,
  };
}

/** The same array once dry: healthy leakage falls by `leakageRatio`, and damage that only shows wet is gone. */
export function afterDrying(truth: Truth, leakageRatio: number): Truth {
  const strings = new Map<string, ArrayString>();
  for (const [id, string] of truth.strings)
    strings.set(id, {
      ...string,
      moduleLeaksS: (string.moduleLeaksS ?? []).map((siemens) => siemens / leakageRatio),
    });
  const stays = truth.scenario.faults.map((fault) => fault.onlyWet !== true);
  const kept = (_: unknown, index: number): boolean => stays[index] === true;
  return {
    ...truth,
    scenario: { ...truth.scenario, wet: false, faults: truth.scenario.faults.filter(kept) },
    strings,
    faults: truth.faults.filter(kept),
    faultCircuits: truth.faultCircuits.filter(kept),
  };
}
