import type { ArrayDescription, ArrayString } from "../circuit/array-description.ts";
import { CircuitError } from "../circuit/circuit-error.ts";
import type { MeasuredRequest } from "./measured-request.ts";
import type { ScenarioEarth } from "./scenario.ts";
import { atLight, type Truth } from "./truth.ts";

/** What hangs together while the reading is taken; strings isolated from the circuit are left out, they are apart. */
export function connected(truth: Truth, request: MeasuredRequest, light: number): ArrayDescription {
  const circuit = truth.scenario.circuits?.find(({ id }) => id === request.on);
  const ids =
    circuit === undefined
      ? [request.on]
      : circuit.strings.filter((id) => request.isolated?.includes(id) !== true);
  if (circuit !== undefined && request.segment !== undefined)
    throw new CircuitError(
      "CIRCUIT_PLACE_UNKNOWN",
      `a segment of circuit ${circuit.id}; allowed: of one string`,
    );
  const strings = ids.map((id) => {
    const string = inLight(knownString(truth, id), light);
    if (circuit !== undefined) return string;
    const apart = { ...string, fuseOut: { positive: true, negative: true } };
    return request.segment === undefined ? apart : { ...apart, openNodes: request.segment };
  });
  const faults = truth.faults.filter(({ place }, index) =>
    "bus" in place ? truth.faultCircuits[index] === request.on : ids.includes(place.string),
  );
  const earth = earthSeen(truth, request);
  if (earth === null) return { strings, faults };
  const { pole, ohms } = earth;
  if (circuit !== undefined) return { strings, faults, earthing: { pole, ohms } };
  // A string that stands alone is led to earth where its home run ends.
  const place = { string: request.on, homeRun: pole, along: 1 } as const;
  return { strings, faults: [...faults, { place, ohms }] };
}

/** The functional earth, while it is closed on what is read; a stretch between opened connectors is apart from it. */
function earthSeen({ scenario }: Truth, request: MeasuredRequest): ScenarioEarth | null {
  const earth = scenario.functionalEarth;
  const isSeen = earth?.on === request.on && !earth.opened && request.segment === undefined;
  return isSeen ? earth : null;
}

function knownString(truth: Truth, id: string): ArrayString {
  const string = truth.strings.get(id);
  if (string !== undefined) return string;
  const circuits = truth.scenario.circuits?.map((circuit) => circuit.id) ?? [];
  const known = [...truth.strings.keys(), ...circuits].join(", ");
  throw new CircuitError("CIRCUIT_PLACE_UNKNOWN", `reading on ${id}; allowed: ${known}`);
}

function inLight(string: ArrayString, light: number): ArrayString {
  return light === 1
    ? string
    : { ...string, modules: string.modules.map((module) => atLight(module, light)) };
}
