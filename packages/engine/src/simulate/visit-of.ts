import type { FunctionalEarth, Instrument, Reading, StringSpec, Visit } from "../finder/visit.ts";
import type { Amperes, Ohms, Ratio, Volts } from "../quantity/index.ts";
import type { Scenario, ScenarioEarth } from "./scenario.ts";

/** The visit a careful person would write down: the wiring, the instruments as their papers state them, the readings. */
export function visitOf(scenario: Scenario, readings: readonly Reading[]): Visit {
  const { meter, tester, clamp } = scenario;
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
      ...(clamp === undefined ? [] : [clampOf(clamp)]),
    ],
    ...(scenario.functionalEarth === undefined ? {} : { functionalEarth: earthOf(scenario.functionalEarth) }),
    conditions: { mismatch: scenario.mismatch as Ratio, drift: scenario.drift as Ratio, wet: scenario.wet },
    readings,
    costs: {},
  };
}

function clampOf({ reading, floorA }: NonNullable<Scenario["clamp"]>): Instrument {
  const accuracy = { reading: reading as Ratio, floor: floorA as Amperes };
  return { name: "clamp", kind: "leakage-clamp", accuracy };
}

/** What a person writes down of a functional earth: a resistor's size, and whether it was opened. */
function earthOf({ on, pole, through, ohms, opened }: ScenarioEarth): FunctionalEarth {
  return { on, pole, opened, ...(through === "resistor" ? { through: ohms as Ohms } : {}) };
}
