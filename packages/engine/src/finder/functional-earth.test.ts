import { describe, expect, test } from "vitest";
import { solveArray } from "../circuit/index.ts";
import type { Ohms, Ratio, Volts } from "../quantity/index.ts";
import { linearModule } from "../simulate/index.ts";
import { locate } from "./locate.ts";
import type { FunctionalEarth, Visit, VoltageReading } from "./visit.ts";

/** Readings of the whole network: 12 modules of 40 V, 25 kΩ at node 4, the negative pole led to earth through 20 kΩ. */
function readingsThrough(earthOhms: number): VoltageReading[] {
  const array = {
    strings: [
      {
        id: "S1",
        modules: Array.from({ length: 12 }, () => linearModule(40)),
        substrings: 3,
        moduleLeaksS: Array.from({ length: 12 }, () => 1 / 500e6),
        fuseOut: { positive: true, negative: true },
      },
    ],
    faults: [
      { place: { string: "S1", at: 4 }, ohms: 25e3 },
      { place: { string: "S1", at: 0 }, ohms: earthOhms },
    ],
  };
  const end = { "-": { string: "S1", homeRun: "-" }, "+": { string: "S1", homeRun: "+" } } as const;
  const read = (from: "+" | "-", to: "-" | "earth", shuntOhms?: number): VoltageReading => {
    const meter = {
      kind: "voltmeter",
      from: end[from],
      to: to === "-" ? end["-"] : "earth",
      inputOhms: 10e6,
    } as const;
    const solved = solveArray(array, shuntOhms === undefined ? meter : { ...meter, shuntOhms });
    const shunt = shuntOhms === undefined ? {} : { shunt: shuntOhms as Ohms };
    return {
      kind: "voltage",
      with: "meter",
      on: "S1",
      from,
      to,
      value: Math.abs(solved.reading ?? NaN) as Volts,
      ...shunt,
    };
  };
  return [
    read("+", "-"),
    read("+", "earth"),
    read("-", "earth"),
    read("+", "earth", 100e3),
    read("-", "earth", 100e3),
  ];
}

function visitWith(readings: VoltageReading[], functionalEarth: FunctionalEarth): Visit {
  return {
    strings: [{ id: "S1", modules: 12, substrings: 3 }],
    circuits: [],
    instruments: [
      {
        name: "meter",
        kind: "voltmeter",
        inputResistance: 10e6 as Ohms,
        accuracy: { reading: 0.003 as Ratio, floor: 0.1 as Volts },
      },
    ],
    functionalEarth,
    conditions: { mismatch: 0.005 as Ratio, drift: 0.004 as Ratio, wet: false },
    readings,
    costs: {},
  };
}

describe("a functionally earthed array", () => {
  test("closed through a known resistor, the resistor is part of the circuit and the fault is found beside it", () => {
    const earth = { on: "S1", pole: "-", through: 20e3 as Ohms, opened: false } as const;
    const finding = locate(visitWith(readingsThrough(20e3), earth));
    expect(finding.places[0]).toMatchObject({ string: "S1", at: 4 });
    expect(finding.faultResistance!.low).toBeLessThan(25e3);
    expect(finding.faultResistance!.high).toBeGreaterThan(25e3);
  });

  test("the same readings taken as floating name a place nearer the earthed pole", () => {
    const finding = locate(visitWith(readingsThrough(20e3), { on: "S1", pole: "-", opened: true }));
    expect(finding.places[0]!.at).toBeLessThan(3);
  });

  test("closed through a fuse, the finding says that nothing can be told and what comes first", () => {
    const finding = locate(visitWith(readingsThrough(1), { on: "S1", pole: "-", opened: false }));
    expect(finding.verdict).toBe("cannot-tell");
    expect(finding.because).toContain("functional earth");
    expect(finding.codes).toContain("READING_EARTH_CLOSED");
    expect(finding.next).toEqual([]);
  });
});
