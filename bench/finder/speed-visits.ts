import {
  drawTruth,
  firstRequests,
  linearModule,
  measure,
  seededRandom,
  visitOf,
  type RequestedReading,
  type Scenario,
  type Visit,
} from "@earthbell/engine";

export interface ArraySize {
  readonly strings: number;
  readonly modules: number;
  readonly readings: number;
}

export const MODULE_VOLTS = 41;
export const MODULE_LEAK_OHMS = 150e6;
export const METER_OHMS = 10e6;

/** Strings alike, one fault three tenths of the way up one of them. */
export function arrayOf({ strings, modules }: ArraySize, faultOhms: number): Scenario {
  const ids = Array.from({ length: strings }, (_, i) => `S${String(i + 1)}`);
  return {
    strings: ids.map((id) => ({
      id,
      modules,
      module: linearModule(MODULE_VOLTS),
      moduleLeakOhms: MODULE_LEAK_OHMS,
    })),
    circuits: strings > 1 ? [{ id: "C1", strings: ids }] : [],
    faults: [{ string: ids[faultyString(strings)]!, at: Math.round(0.3 * modules), ohms: faultOhms }],
    wet: false,
    mismatch: 0.005,
    drift: 0.004,
    meter: { inputOhms: METER_OHMS, inputTolerance: 0.01, reading: 0.003, floorV: 0.1 },
    tester: { reading: 0.03, floorOhms: 2e3, seriesOhms: 10e3 },
  };
}

function faultyString(strings: number): number {
  return Math.floor(0.6 * strings);
}

/** The first readings, then halves of the circuit isolated by turns, then strings alone from the faulty one on. */
function requestsOf({ strings, modules, readings }: ArraySize): RequestedReading[] {
  const on = strings > 1 ? "C1" : "S1";
  const requests = firstRequests(on);
  for (let round = 0; requests.length < readings; round++) {
    if (strings === 1) {
      // Ever shorter stretches, as if connectors were opened towards the negative end.
      const node = Math.max(1, Math.round(modules / (round + 2)));
      requests.push(...firstRequests("S1").map((request) => ({ ...request, segment: [0, node] as const })));
    } else if (round < 3) {
      const isolated = Array.from({ length: strings }, (_, i) => i)
        .filter((i) => ((i >> round) & 1) === 1)
        .map((i) => `S${String(i + 1)}`);
      requests.push(...firstRequests(on).map((request) => ({ ...request, isolated })));
    } else {
      const alone = (faultyString(strings) + round - 3) % strings;
      requests.push(...firstRequests(`S${String(alone + 1)}`));
    }
  }
  return requests.slice(0, readings);
}

export function visitOfSize(size: ArraySize, faultOhms: number, seed: number): Visit {
  const random = seededRandom(seed);
  const scenario = arrayOf(size, faultOhms);
  const truth = drawTruth(scenario, random);
  return visitOf(
    scenario,
    requestsOf(size).map((request) => measure(truth, request, random)),
  );
}
