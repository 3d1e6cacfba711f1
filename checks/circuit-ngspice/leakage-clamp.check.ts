import { beforeAll, describe, expect, it } from "vitest";
import { solveArray, type Visit } from "@earthbell/engine";
// What the finder expects of a clamp is a part of its likelihood and not for sale; it is put together here from its own stages.
import { benchOf } from "../../packages/engine/src/finder/instruments.ts";
import { clampMeasurement, clampResponse } from "../../packages/engine/src/finder/leakage-clamp.ts";
import { busIndex } from "../../packages/engine/src/finder/places.ts";
import { arrayNetlist } from "./array-netlist.ts";
import { generatedClamps, type ClampCase } from "./generated-clamps.ts";
import { solveWithNgspice } from "./ngspice.ts";

const SEED = 20_261_125;
/** Agreement asked of the closed form, on strings alike and evenly leaking: a part in a thousand. */
const CLOSED_FORM_RATIO = 1e-3;
/** Agreement asked of the nodal analysis on any strings, and what ngspice's own rounding of a whole circuit leaves [A]. */
const NETWORK_RATIO = 1e-5;
const ROUNDING_A = 1e-8;

const cases = generatedClamps(SEED);
let spice: ReadonlyMap<string, readonly number[]>;

beforeAll(async () => {
  spice = await solveWithNgspice(
    cases.map(({ id, array, resistor, clamped }) =>
      arrayNetlist(id, array, resistor, [{ kind: "string-leakage", string: clamped }]),
    ),
  );
});

/** The current that the finder expects in the clamp, were every leak known. */
function expectedByFinder({ array, resistor, clamped, moduleLeakS }: ClampCase): number {
  const joined = array.strings.filter(({ fuseOut }) => fuseOut === undefined);
  const [first] = array.strings;
  const volts = first!.modules.reduce((sum, one) => sum + (one.kind === "linear" ? one.openCircuitV : 0), 0);
  const { earthing } = array;
  const visit: Visit = {
    strings: array.strings.map(({ id, modules }) => ({ id, modules: modules.length })),
    circuits: [{ id: "C1", strings: array.strings.map(({ id }) => id) }],
    instruments: [],
    conditions: {},
    readings: [],
    costs: {},
    ...(earthing === undefined
      ? {}
      : {
          functionalEarth: {
            on: "C1",
            pole: earthing.pole,
            through: earthing.ohms as never,
            opened: false,
          },
        }),
  };
  const isolated = array.strings.filter((string) => !joined.includes(string)).map(({ id }) => id);
  const asked = {
    kind: "leakage",
    with: "clamp",
    on: clamped,
    circuit: "C1",
    from: resistor.pole,
    to: "earth",
    shunt: resistor.inputOhms as never,
    value: 0 as never,
    ...(isolated.length === 0 ? {} : { isolated }),
  } as const;
  const bench = benchOf({ ...visit, readings: [asked] });
  const unlike = { lopsided: 0, spread: 0 };
  const middle = { siemens: 0, share: 0.5 };
  const level = volts / first!.modules.length;
  const clamp = clampMeasurement(visit, bench, level, unlike, middle, asked);
  const leaks = array.faults.map(({ place, ohms }) =>
    "bus" in place
      ? { string: busIndex(0), siemens: 1 / ohms, share: place.bus === "+" ? 1 : 0 }
      : {
          string: array.strings.findIndex(({ id }) => id === place.string),
          siemens: 1 / ohms,
          share: "at" in place ? place.at / first!.modules.length : NaN,
        },
  );
  const { constant, slopes } = clampResponse(clamp, moduleLeakS, leaks);
  return leaks.reduce((sum, { share }, i) => sum + slopes[i]! * share, constant);
}

const ofKind = (kind: ClampCase["kind"]): [string, ClampCase][] =>
  cases.filter((one) => one.kind === kind).map((one) => [one.id, one]);

describe("the finder's closed form for a leakage clamp against ngspice, strings alike", () => {
  it.each(ofKind("alike"))("%s: the current that leaves the clamped string, to 0.1 %", (id, one) => {
    const [expected] = spice.get(id)!;
    expect(Math.abs(expectedByFinder(one) - expected!)).toBeLessThanOrEqual(
      CLOSED_FORM_RATIO * Math.abs(expected!) + ROUNDING_A,
    );
  });
});

describe("the nodal analysis of a clamped string against ngspice, strings alike or not", () => {
  it.each(cases.map((one): [string, ClampCase] => [one.id, one]))("%s", (id, one) => {
    const [expected] = spice.get(id)!;
    const ours = solveArray(one.array, one.resistor).stringLeakageA(one.clamped);
    expect(Math.abs(ours - expected!)).toBeLessThanOrEqual(NETWORK_RATIO * Math.abs(expected!) + ROUNDING_A);
  });
});

describe("the cases", () => {
  it("hold sound and damaged strings in the clamp, both senses of the current, and functional earths", () => {
    const currents = cases.map(({ id }) => spice.get(id)![0]!);
    expect(cases.length).toBeGreaterThanOrEqual(80);
    expect(Math.min(...currents)).toBeLessThan(-1e-5);
    expect(Math.max(...currents)).toBeGreaterThan(1e-3);
    const damaged = cases.filter(({ array, clamped }) =>
      array.faults.some(({ place }) => "string" in place && place.string === clamped),
    );
    expect(damaged.length).toBeGreaterThan(20);
    expect(cases.length - damaged.length).toBeGreaterThan(20);
    expect(cases.filter(({ array }) => array.earthing !== undefined).length).toBeGreaterThan(20);
    expect(Math.max(...cases.map(({ array }) => array.strings.length))).toBe(24);
  });

  it("would tell a fault one module off, and a functional earth left out", () => {
    const telling = ofKind("alike").filter(([id]) => Math.abs(spice.get(id)![0]!) > 1e-4);
    const off = telling.filter(([id, one]) => {
      const [fault, ...others] = one.array.faults;
      if (fault === undefined || !("at" in fault.place)) return false;
      const at = fault.place.at >= 1 ? fault.place.at - 1 : fault.place.at + 1;
      const moved = { ...one.array, faults: [{ ...fault, place: { ...fault.place, at } }, ...others] };
      const expected = spice.get(id)![0]!;
      return Math.abs(expectedByFinder({ ...one, array: moved }) / expected - 1) > 10 * CLOSED_FORM_RATIO;
    });
    expect(off.length).toBeGreaterThan(5);
    const earthed = telling.filter(([, { array }]) => array.earthing !== undefined);
    const floating = earthed.filter(([id, one]) => {
      const { earthing: _, ...array } = one.array;
      const expected = spice.get(id)![0]!;
      return Math.abs(expectedByFinder({ ...one, array }) / expected - 1) > 10 * CLOSED_FORM_RATIO;
    });
    expect(floating.length).toBeGreaterThan(earthed.length / 2);
  });
});
