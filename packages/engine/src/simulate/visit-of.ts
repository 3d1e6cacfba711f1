import type { Reading, StringSpec, Visit } from "../finder/visit.ts";
import type { Ohms, Ratio, Volts } from "../quantity/index.ts";
import type { Scenario } from "./scenario.ts";

/** The visit a careful person would write down: the wiring, the instruments as their papers state them, the readings. */
export function visitOf(scenario: Scenario, readings: readonly Reading[]): Visit {
  const { meter, tester } = scenario;
  return {
    strings: scenario.strings.map((string): StringSpec => {
      const { id, modules, substrings, module } = string;
      return {
        id,
        modules,
        substrings: substrings ?? 3,
        ...(module.kind === "linear" ? { moduleVoc: module.openCircuitV as Volts } : {}),
      };
    }),
    circuits: scenario.circuits ?? [],
    instruments: [
      {
        name: "meter",
        kind: "voltmeter",
        inputResistance: meter.inputOhms as Ohms,
        inputTolerance: meter.inputTolerance as Ratio,
        accuracy: { reading: meter.reading as Ratio, floor: meter.floorV as Volts },
      },
      {
        name: "tester",
        kind: "insulation-tester",
        accuracy: { reading: tester.reading as Ratio, floor: tester.floorOhms as Ohms },
      },
    ],
    conditions: { mismatch: scenario.mismatch as Ratio, drift: scenario.drift as Ratio, wet: scenario.wet },
    readings,
    costs: {},
  };
}
