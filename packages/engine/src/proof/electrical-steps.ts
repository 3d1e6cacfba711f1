import type { ArrayAssessment } from "../assess/assessment.ts";
import type { ModuleType, PvArray } from "../assess/site.ts";
import { figure } from "../path/judgement.ts";
import { preconditionsFor } from "../safety/index.ts";
import { type Expected, leftOut, type ProofStep, stepOf } from "./proof-step.ts";

/** Cell temperatures for which the open-circuit voltage is stated; between them it runs straight. */
const CELL_TEMPERATURES = [10, 25, 40, 55];
const STC_C = 25;

function isolate(array: PvArray): ProofStep {
  // The step makes the isolation, and no test has charged the array yet.
  const requires = preconditionsFor("isolate-string").filter(
    (id) => id !== "array-isolated-both-poles" && id !== "charge-discharged",
  );
  return stepOf("isolate-string", {
    id: "isolate",
    do: `Stop the inverter ${array.inverter}. When a clamp shows zero current, switch array ${array.id} off at both poles, lock and tag the switch.`,
    requires,
    expected: [
      {
        text: "no current in either pole",
        value: 0,
        dimension: "current",
        source: "trade rule for isolation",
        tag: "memory",
      },
    ],
  });
}

function earthContinuity(): ProofStep {
  return stepOf("read", {
    id: "earth-continuity",
    do: "Measure the earth conductor from each frame and rail to the main earth.",
    expected: [
      {
        text: "continuous, and not more than",
        value: 1,
        dimension: "resistance",
        bound: "at-most",
        source: "limit used in the trade; the local code's own goes first",
        tag: "common practice",
      },
    ],
  });
}

function polarity({ strings }: PvArray): ProofStep {
  return stepOf("read", {
    id: "polarity",
    do: `Measure each string (${strings.map(({ id }) => id).join(", ")}), plus to minus, before strings are joined.`,
    expected: [
      { text: "positive on every string, so no pole is swapped", source: "IEC 62446-1", tag: "memory" },
    ],
  });
}

function perKelvin({ vocTemperatureCoefficient: coefficient, voc }: ModuleType): number | null {
  if (coefficient === undefined) return null;
  return coefficient.kind === "relative" ? coefficient.perKelvin * voc : coefficient.voltsPerKelvin;
}

function voltagesOf(id: string, modules: number, module: ModuleType): readonly Expected[] {
  const slope = perKelvin(module);
  const temperatures = slope === null ? [STC_C] : CELL_TEMPERATURES;
  return temperatures.map((celsius) => ({
    text: `${id}, ${modules} modules, cells at ${celsius} °C`,
    value: modules * (module.voc + (slope ?? 0) * (celsius - STC_C)),
    dimension: "voltage",
    source: `modules ${module.id}: n · (Voc + b · (T − 25 °C))`,
    tag: "computed",
  }));
}

function openCircuit(array: PvArray, module: ModuleType, electronics: boolean): ProofStep {
  const text =
    "Measure the open-circuit voltage of each string, and the temperature on the back of a module.";
  if (electronics)
    return leftOut(
      "open-circuit-voltage",
      text,
      "Electronics in the strings set this voltage: take the maker's value.",
    );
  const alike: Expected = {
    text: "strings of equal length alike within 5 %",
    source: "IEC 62446-1",
    tag: "memory",
  };
  return stepOf("read", {
    id: "open-circuit-voltage",
    do: text,
    expected: [...array.strings.flatMap(({ id, modules }) => voltagesOf(id, modules, module)), alike],
  });
}

function insulation({ insulationTest: test }: ArrayAssessment): ProofStep {
  const text = "Test the insulation of the array to earth.";
  if (test === null)
    return leftOut(
      "insulation-test",
      text,
      "The test voltage cannot be stated for this array; take the maker's own test.",
    );
  const { testVoltage, minimumOhms, source, tag } = test;
  return stepOf("insulation-test", {
    id: "insulation-test",
    do: `Test the insulation at ${figure(testVoltage)} V, by one of two ways: minus to earth, then plus to earth, each by itself; or both poles joined by a switch rated for it, then tested to earth together. Let the charge off and measure that it is gone.`,
    expected: [
      { text: "test voltage", value: testVoltage, dimension: "voltage", source, tag },
      {
        text: "at least, by either way",
        value: minimumOhms,
        dimension: "resistance",
        bound: "at-least",
        source,
        tag,
      },
    ],
  });
}

/** From isolation to the insulation test: what must be sound before anybody leaks current to earth on purpose. */
export function electricalSteps(
  array: PvArray,
  module: ModuleType,
  assessment: ArrayAssessment,
  electronics: boolean,
): readonly ProofStep[] {
  return [
    isolate(array),
    earthContinuity(),
    polarity(array),
    openCircuit(array, module, electronics),
    insulation(assessment),
  ];
}
