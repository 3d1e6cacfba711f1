import { CircuitError } from "../circuit/circuit-error.ts";
import { solveArray } from "../circuit/array-network.ts";
import type { LeakageReading } from "../finder/visit.ts";
import type { Amperes, Ohms } from "../quantity/index.ts";
import { connected } from "./connected.ts";
import type { MeasuredRequest } from "./measured-request.ts";
import type { Random } from "./random.ts";
import { requestedQuantity } from "./requested-quantity.ts";
import type { Truth } from "./truth.ts";

/**
 * A clamp around both conductors of one string while one pole of its circuit is led to earth through the known
 * resistor: the string's current to earth, as the full network gives it, with the clamp's own errors. The meter that may
 * hang across the resistor is counted in it.
 */
export function leakageReading(
  truth: Truth,
  request: MeasuredRequest,
  light: number,
  random: Random,
): LeakageReading {
  const { circuit, shunt, from } = request;
  if (circuit === undefined || shunt === undefined || from === "shorted")
    throw new CircuitError(
      "CIRCUIT_PLACE_UNKNOWN",
      "a clamp reading needs the circuit, one pole and the resistor to earth",
    );
  const ohms = requestedQuantity(shunt, "Ω") as Ohms;
  const array = connected(truth, { ...request, on: circuit }, light);
  const earthed = { kind: "voltmeter", from: { bus: from }, to: "earth", inputOhms: ohms } as const;
  const { reading, floorA } = truth.scenario.clamp ?? { reading: 0.02, floorA: 0.1e-3 };
  const exact = solveArray(array, earthed).stringLeakageA(request.on);
  const shown = Math.abs(exact * (1 + reading * random.normal()) + floorA * random.normal());
  const isolated = request.isolated === undefined ? {} : { isolated: request.isolated };
  return {
    kind: "leakage",
    with: request.with,
    on: request.on,
    circuit,
    ...isolated,
    from,
    to: "earth",
    shunt: ohms,
    value: shown as Amperes,
  };
}
