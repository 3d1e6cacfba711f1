import type { Ohms, Ratio, Volts } from "../quantity/index.ts";
import {
  drawTruth,
  exactReading,
  firstRequests,
  linearModule,
  measure,
  seededRandom,
  visitOf,
  type MeasuredRequest,
  type Random,
  type Scenario,
  type ScenarioFault,
} from "../simulate/index.ts";
import type { InsulationReading, Reading, StringSpec, Terminal, Visit, VoltageReading } from "./visit.ts";

/** A good meter under steady light, on strings of equal modules of 40 V. */
const STEADY: Scenario = {
  strings: [],
  faults: [],
  wet: false,
  mismatch: 0.005,
  drift: 0.004,
  meter: { inputOhms: 10e6, inputTolerance: 0.01, reading: 0.003, floorV: 0.1 },
  tester: { reading: 0.03, floorOhms: 2e3, seriesOhms: 0 },
};

/** One string S1 of 20 modules, 200 MΩ of healthy leakage each, with the faults given. */
export function stringWith(faults: readonly ScenarioFault[], moduleLeakOhms = 200e6): Scenario {
  return {
    ...STEADY,
    strings: [{ id: "S1", modules: 20, module: linearModule(40), moduleLeakOhms }],
    faults,
  };
}

/** Four strings S1 to S4 of 20 modules in parallel, with the faults given. */
export function circuitWith(faults: readonly ScenarioFault[]): Scenario {
  const ids = ["S1", "S2", "S3", "S4"];
  return {
    ...STEADY,
    strings: ids.map((id) => ({ id, modules: 20, module: linearModule(40), moduleLeakOhms: 200e6 })),
    circuits: [{ id: "C1", strings: ids }],
    faults,
  };
}

/** The five first readings and more, taken without any error on modules that are all alike. */
export function exactVisit(
  scenario: Scenario,
  requests: readonly MeasuredRequest[] = firstRequests("S1"),
): Visit {
  const truth = drawTruth(
    { ...scenario, mismatch: 0, meter: { ...scenario.meter, inputTolerance: 0 } },
    seededRandom(1),
  );
  const random: Random = { uniform: () => 0.5, normal: () => 0 };
  const readings = requests.map((request): Reading => {
    const value = exactReading(truth, request);
    return {
      ...measure(truth, request, random),
      value: request.testVoltage ? value : Math.abs(value),
    } as Reading;
  });
  return visitOf(scenario, readings);
}

/** The readings with the errors of the scenario's instruments and light. */
export function noisyVisit(
  scenario: Scenario,
  random: Random,
  requests: readonly MeasuredRequest[] = firstRequests("S1"),
): Visit {
  const truth = drawTruth(scenario, random);
  return visitOf(
    scenario,
    requests.map((request) => measure(truth, request, random)),
  );
}

export function volts(
  from: Terminal,
  to: VoltageReading["to"],
  value: number,
  more: Partial<VoltageReading> = {},
): VoltageReading {
  return { kind: "voltage", with: "meter", on: "S1", from, to, value: value as Volts, ...more };
}

export function insulation(
  from: InsulationReading["from"],
  testVoltage: number,
  value: number,
  more: Partial<InsulationReading> = {},
): InsulationReading {
  return {
    kind: "insulation",
    with: "tester",
    on: "S1",
    from,
    to: "earth",
    testVoltage: testVoltage as Volts,
    value: value as Ohms,
    ...more,
  };
}

/** A visit to one string S1 with a 10 MΩ meter of 0.3 % + 0.1 V. */
export function visitTo(
  modules: number,
  readings: readonly Reading[],
  spec: Partial<StringSpec> = {},
): Visit {
  return {
    strings: [{ id: "S1", modules, ...spec }],
    circuits: [],
    instruments: [
      {
        name: "meter",
        kind: "voltmeter",
        inputResistance: 10e6 as Ohms,
        inputTolerance: 0.01 as Ratio,
        accuracy: { reading: 0.003 as Ratio, floor: 0.1 as Volts },
      },
      {
        name: "tester",
        kind: "insulation-tester",
        accuracy: { reading: 0.03 as Ratio, floor: 2e3 as Ohms },
      },
    ],
    conditions: { mismatch: 0.005 as Ratio, drift: 0.004 as Ratio, wet: false },
    readings,
    costs: {},
  };
}
