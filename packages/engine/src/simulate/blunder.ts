import { CircuitError } from "../circuit/circuit-error.ts";
import type { Reading, Visit } from "../finder/visit.ts";
import { measure, readingWith } from "./measure.ts";
import type { MeasuredRequest } from "./measured-request.ts";
import type { Random } from "./random.ts";
import type { Truth } from "./truth.ts";

/** Slips of the hand that spoil one reading. */
export const BLUNDERS = [
  "leads-swapped",
  "meter-on-ac",
  "still-in-parallel",
  "millivolts-as-volts",
  "digits-shifted",
  "light-changed",
] as const;
export type Blunder = (typeof BLUNDERS)[number];

/**
 * The reading that `request` becomes when the person makes this slip.
 *
 * leads-swapped        the other pole was touched: + for −
 * meter-on-ac          a few tenths of a volt of ripple instead of the direct voltage
 * still-in-parallel    the string was not taken off its circuit
 * millivolts-as-volts  the number was written without its unit: a thousand times too much
 * digits-shifted       the decimal point slipped one place, either way
 * light-changed        the light had changed by 10 to 40 % of the voltage, either way
 * @throws CircuitError when the slip is impossible for this reading: no circuit to be left in, a tester on a.c.
 */
export function measureWithBlunder(
  truth: Truth,
  request: MeasuredRequest,
  blunder: Blunder,
  random: Random,
): Reading {
  switch (blunder) {
    case "leads-swapped":
      return { ...measure(truth, swapped(request), random), from: request.from } as Reading;
    case "meter-on-ac":
      return onAlternating(measure(truth, request, random), random);
    case "still-in-parallel":
      return { ...measure(truth, leftInCircuit(truth, request), random), on: request.on };
    case "millivolts-as-volts":
      return scaled(measure(truth, request, random), 1000);
    case "digits-shifted":
      return scaled(measure(truth, request, random), random.uniform() < 0.5 ? 0.1 : 10);
    case "light-changed": {
      const change = 0.1 + 0.3 * random.uniform();
      return readingWith(truth, request, random.uniform() < 0.5 ? 1 - change : 1 + change, random);
    }
  }
}

/** The visit with a string entered one to three modules too long or too short. */
export function withWrongLength(visit: Visit, stringId: string, random: Random): Visit {
  const by = 1 + Math.floor(3 * random.uniform());
  const longer = random.uniform() < 0.5;
  const strings = visit.strings.map((string) => {
    if (string.id !== stringId) return string;
    return { ...string, modules: longer || string.modules <= by ? string.modules + by : string.modules - by };
  });
  return { ...visit, strings };
}

function swapped(request: MeasuredRequest): MeasuredRequest {
  if (request.from === "shorted" || request.to !== "earth")
    throw new CircuitError("CIRCUIT_PLACE_UNKNOWN", "swapped leads show only from one pole to earth");
  return { ...request, from: request.from === "+" ? "-" : "+" };
}

function onAlternating(reading: Reading, random: Random): Reading {
  if (reading.kind !== "voltage")
    throw new CircuitError(
      "CIRCUIT_PLACE_UNKNOWN",
      "only a voltmeter has an a.c. range to slip to; allowed: a voltmeter reading",
    );
  return { ...reading, value: (0.3 * random.uniform()) as typeof reading.value };
}

function leftInCircuit(truth: Truth, request: MeasuredRequest): MeasuredRequest {
  const circuit = truth.scenario.circuits?.find(({ strings }) => strings.includes(request.on));
  if (circuit === undefined || request.segment !== undefined)
    throw new CircuitError(
      "CIRCUIT_PLACE_UNKNOWN",
      `${request.on} cannot have been left in parallel; allowed: a whole string of a circuit`,
    );
  return { ...request, on: circuit.id };
}

function scaled(reading: Reading, factor: number): Reading {
  return { ...reading, value: reading.value * factor } as Reading;
}
