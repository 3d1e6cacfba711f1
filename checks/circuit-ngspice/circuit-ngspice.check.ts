import { beforeAll, describe, expect, it } from "vitest";
import { readArray, solveArray, type ArrayFault, type ArrayString } from "@earthbell/engine";
import { arrayNetlist, type Wanted } from "./array-netlist.ts";
import { closedFormReading } from "./closed-form.ts";
import { generatedCases, type Family, type GeneratedCase } from "./generated-arrays.ts";
import { ngspiceVersion, solveWithNgspice, type SpiceCircuit } from "./ngspice.ts";

const SEED = 20_240_611;
/** Agreement asked of the closed forms where they claim to hold: a part in a thousand. */
const CLOSED_FORM_RATIO = 1e-3;
/** Agreement asked of the nodal analysis everywhere: both solve the same equations, ngspice to 1e-8 of its largest numbers. */
const NETWORK_RATIO = 1e-5;

const cases = generatedCases(SEED);
let spice: ReadonlyMap<string, readonly number[]>;

beforeAll(async () => {
  const circuits = cases.map((one) => arrayNetlist(one.id, one.array, one.instrument, wantedOf(one)));
  const dark = cases.filter(({ family }) => family === "lit-string").map(openCircuitOf);
  spice = await solveWithNgspice([...circuits, ...dark]);
});

/** Everything read off one case: the instrument, a potential in every string, both home-run currents, the earthing. */
function wantedOf({ array }: GeneratedCase): Wanted[] {
  const wanted: Wanted[] = [{ kind: "reading" }];
  for (const string of array.strings) {
    wanted.push({
      kind: "potential",
      probe: { string: string.id, at: Math.ceil(string.modules.length / 2), side: "below" },
    });
    if (string.fuseOut?.negative !== true)
      wanted.push({ kind: "home-run-current", string: string.id, pole: "-" });
    if (string.fuseOut?.positive !== true)
      wanted.push({ kind: "home-run-current", string: string.id, pole: "+" });
  }
  if (array.earthing !== undefined) wanted.push({ kind: "earthing-current" });
  return wanted;
}

/** The same modules with nothing connected but one earth, to learn each module's voltage of the moment from ngspice. */
function openCircuitOf({ id, array }: GeneratedCase): SpiceCircuit {
  const string: ArrayString = { ...array.strings[0]!, moduleLeaksS: [] };
  const faults = [{ place: { string: string.id, at: 0 }, ohms: 1 }];
  const wanted = string.modules.map(
    (_, module): Wanted => ({
      kind: "potential",
      probe: { string: string.id, at: module + 1 },
    }),
  );
  return arrayNetlist(`${id}open`, { strings: [string], faults }, undefined, wanted);
}

function moduleVocsOf(one: GeneratedCase): number[] | undefined {
  const levels = spice.get(`${one.id}open`);
  return levels?.map((level, module) => level - (levels[module - 1] ?? 0));
}

const ofFamily = (family: Family): [string, GeneratedCase][] =>
  cases.filter((one) => one.family === family).map((one) => [one.id, one]);

/** Size that sets the rounding of a case: the largest string voltage, and for a tester the current it can drive. */
function scaleOf({ array, instrument }: GeneratedCase): { volts: number; amperes: number } {
  const volts = Math.max(
    ...array.strings.map(({ modules }) =>
      modules.reduce((sum, module) => sum + (module.kind === "linear" ? module.openCircuitV : 36), 0),
    ),
  );
  return {
    volts,
    amperes: instrument.kind === "tester" ? Math.abs(instrument.testV) / instrument.seriesOhms : 0,
  };
}

/** A tester's reading as the current behind it, which stays finite where the resistance shown runs away. */
function asCompared(one: GeneratedCase, reading: number): number {
  const { instrument } = one;
  return instrument.kind === "tester" ? instrument.testV / (reading + instrument.seriesOhms) : reading;
}

function expectClose(actual: number, expected: number, ratio: number, floor: number): void {
  expect(Math.abs(actual - expected)).toBeLessThanOrEqual(ratio * Math.abs(expected) + floor);
}

describe("closed forms against ngspice, where they claim to hold", () => {
  const claimed = (["floating-string", "opened-string", "parallel-strings", "lit-string"] as const).flatMap(
    ofFamily,
  );

  it.each(claimed)("%s reads the same to 0.1 %", (id, one) => {
    const { volts, amperes } = scaleOf(one);
    const floor = one.instrument.kind === "tester" ? 1e-6 * amperes : 1e-5 * volts;
    expectClose(closedFormReading(one, moduleVocsOf(one)), spice.get(id)![0]!, CLOSED_FORM_RATIO, floor);
  });
});

describe("nodal analysis against ngspice, everywhere", () => {
  it.each(cases.map((one): [string, GeneratedCase] => [one.id, one]))(
    "%s: reading, potentials, currents",
    (id, one) => {
      const solved = solveArray(one.array, one.instrument);
      const { volts, amperes } = scaleOf(one);
      const ours = wantedOf(one).map((wanted): { value: number; floor: number } => {
        switch (wanted.kind) {
          case "reading": {
            const floor = one.instrument.kind === "tester" ? 1e-8 * amperes : 1e-6 * volts;
            return { value: asCompared(one, solved.reading!), floor };
          }
          case "potential":
            return { value: solved.potentialV(wanted.probe), floor: 1e-5 * volts };
          case "home-run-current":
            return { value: solved.homeRunCurrentA(wanted.string, wanted.pole), floor: 1e-8 };
          case "string-leakage":
            return { value: solved.stringLeakageA(wanted.string), floor: 1e-8 };
          case "earthing-current":
            return { value: solved.earthingCurrentA, floor: 1e-8 };
        }
      });
      ours.forEach(({ value, floor }, index) => {
        expectClose(value, spice.get(id)![index]!, NETWORK_RATIO, floor);
      });
      expectClose(
        asCompared(one, readArray(one.array, one.instrument)),
        ours[0]!.value,
        1e-7,
        ours[0]!.floor,
      );
    },
  );
});

describe("the check itself", () => {
  it("covers at least 200 networks, up to 24 strings and 26 modules, and runs a known ngspice", async () => {
    expect(cases.length).toBeGreaterThanOrEqual(200);
    expect(Math.max(...cases.map(({ array }) => array.strings.length))).toBe(24);
    expect(
      Math.max(...cases.flatMap(({ array }) => array.strings.map(({ modules }) => modules.length))),
    ).toBe(26);
    expect(await ngspiceVersion()).toMatch(/^ngspice-\d+/);
  });

  it("would notice a wrong circuit: a fault one module off shows", () => {
    const right = cases.find(
      ({ array, instrument }) =>
        array.strings.length === 1 &&
        array.faults.length === 1 &&
        instrument.kind === "voltmeter" &&
        instrument.to === "earth" &&
        "at" in array.faults[0]!.place &&
        array.faults[0]!.place.at >= 1,
    )!;
    const [fault] = right.array.faults as [ArrayFault & { place: { string: string; at: number } }];
    const place = { ...fault.place, at: fault.place.at - 1 };
    const shown = solveArray({ ...right.array, faults: [{ ...fault, place }] }, right.instrument).reading!;
    expect(Math.abs(shown / spice.get(right.id)![0]! - 1)).toBeGreaterThan(10 * CLOSED_FORM_RATIO);
  });
});
