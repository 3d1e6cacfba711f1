import type { ArrayInstrument, Probe } from "../circuit/array-description.ts";
import { CircuitError } from "../circuit/circuit-error.ts";
import { readArray } from "../circuit/read-array.ts";
import type { InsulationReading, Reading, Terminal, VoltageReading } from "../finder/visit.ts";
import type { Ohms, Volts } from "../quantity/index.ts";
import type { Random } from "./random.ts";
import { connected } from "./connected.ts";
import { leakageReading } from "./measure-leakage.ts";
import type { MeasuredRequest } from "./measured-request.ts";
import { requestedQuantity } from "./requested-quantity.ts";
import type { Truth } from "./truth.ts";

/** What an insulation tester cannot show beyond [Ω; design choice, the top of usual instruments]. */
const TESTER_CEILING_OHMS = 200e9;

/**
 * Takes one reading on the truth, with this reading's light and instrument error.
 *
 * The circuit is the full network of everything connected (`readArray`), not the closed forms that the finder uses. A voltage is
 * given as its size. A tester shows testV / current, negative where the lit array overpowers it.
 * @throws CircuitError when the request names a string, circuit or node that is not there.
 */
export function measure(truth: Truth, request: MeasuredRequest, random: Random): Reading {
  const light = 1 + truth.scenario.drift * random.normal();
  return readingWith(truth, request, light, random);
}

/** As `measure`, under a given light instead of a drawn one. */
export function readingWith(truth: Truth, request: MeasuredRequest, light: number, random: Random): Reading {
  if (request.circuit !== undefined) return leakageReading(truth, request, light, random);
  const exact = exactReading(truth, request, light);
  return withInstrumentError(truth, request, exact, random);
}

/** What an instrument without error shows; voltages keep their sign. */
export function exactReading(truth: Truth, request: MeasuredRequest, light = 1): number {
  const array = connected(truth, request, light);
  return readArray(array, instrumentFor(truth, request));
}

/** The reading in a visit's form: `shown` with the instrument's own gain and floor errors on it. */
function withInstrumentError(truth: Truth, request: MeasuredRequest, shown: number, random: Random): Reading {
  const { meter, tester } = truth.scenario;
  const gain = random.normal();
  const floor = random.normal();
  const base = {
    with: request.with,
    on: request.on,
    ...(request.segment === undefined ? {} : { segment: request.segment }),
    ...(request.isolated === undefined ? {} : { isolated: request.isolated }),
  };
  if (request.testVoltage !== undefined) {
    const limited = Math.max(-TESTER_CEILING_OHMS, Math.min(TESTER_CEILING_OHMS, shown));
    const value = limited * (1 + tester.reading * gain) + tester.floorOhms * floor;
    const testVoltage = requestedQuantity(request.testVoltage, "V") as Volts;
    const reading: InsulationReading = {
      ...base,
      kind: "insulation",
      from: request.from,
      to: "earth",
      testVoltage,
      value: value as Ohms,
    };
    return reading;
  }
  const value = Math.abs(shown * (1 + meter.reading * gain) + meter.floorV * floor);
  const shunt = request.shunt === undefined ? {} : { shunt: requestedQuantity(request.shunt, "Ω") as Ohms };
  const reading: VoltageReading = {
    ...base,
    ...shunt,
    kind: "voltage",
    from: terminalOf(request),
    to: request.to,
    value: value as Volts,
  };
  return reading;
}

function terminalOf(request: MeasuredRequest): Terminal {
  if (request.from !== "shorted") return request.from;
  throw new CircuitError("CIRCUIT_PLACE_UNKNOWN", "a voltmeter needs one pole; allowed: from + or −");
}

function instrumentFor(truth: Truth, request: MeasuredRequest): ArrayInstrument {
  if (request.testVoltage !== undefined) {
    const testV = requestedQuantity(request.testVoltage, "V");
    const { seriesOhms } = truth.scenario.tester;
    if (request.from !== "shorted")
      return { kind: "tester", at: probeFor(truth, request, request.from), testV, seriesOhms };
    const [at, shortedTo] = [probeFor(truth, request, "-"), probeFor(truth, request, "+")];
    return { kind: "tester", at, shortedTo, testV, seriesOhms };
  }
  const to = request.to === "earth" ? "earth" : probeFor(truth, request, request.to);
  const from = probeFor(truth, request, terminalOf(request));
  const inputOhms = truth.meterInputOhms;
  if (request.shunt === undefined) return { kind: "voltmeter", from, to, inputOhms };
  const shuntOhms = requestedQuantity(request.shunt, "Ω") * truth.shuntRatio;
  return { kind: "voltmeter", from, to, inputOhms, shuntOhms };
}

function probeFor(truth: Truth, request: MeasuredRequest, terminal: Terminal): Probe {
  if (truth.scenario.circuits?.some(({ id }) => id === request.on) === true) return { bus: terminal };
  if (request.segment === undefined) return { string: request.on, homeRun: terminal };
  const [low, high] = request.segment;
  return terminal === "-"
    ? { string: request.on, at: low, side: "above" }
    : { string: request.on, at: high, side: "below" };
}
