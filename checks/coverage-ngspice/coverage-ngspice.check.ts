import {
  type ArrayDescription,
  type CoverageArray,
  coverageMap,
  earthCurrentA,
  healthyMargin,
  residualCurrentA,
  type SquareMetres,
} from "@earthbell/engine";
import { beforeAll, describe, expect, it } from "vitest";
import { arrayNetlist } from "../circuit-ngspice/array-netlist.ts";
import { solveWithNgspice, type SpiceCircuit } from "../circuit-ngspice/ngspice.ts";
import cases from "./cases.json" with { type: "json" };

const { bonded, oneDiode, residual, healthy } = cases;
/** Cells nearer to the trip level than this may differ. */
const BAND = 0.02;

const resistances = (from: number, decades: number): number[] =>
  Array.from({ length: 4 * decades + 1 }, (_, i) => from * 10 ** (i / 4));

const module = { kind: "single-diode", ...oneDiode.module } as const;
const earthed: CoverageArray = {
  modulesPerString: oneDiode.modules,
  strings: oneDiode.strings,
  moduleOpenV: 35.72621,
  moduleRunningV: 28.38,
  earthing: {
    kind: "functional",
    pole: "-",
    ohms: oneDiode.fuseOhms,
    module,
    leadOhms: oneDiode.leadOhms,
    loadOhms: oneDiode.loadOhms,
  },
};
if (earthed.earthing.kind === "floating") throw new Error("the array of this check is earthed");
const { earthing } = earthed;

const floating: CoverageArray = {
  modulesPerString: residual.modules,
  strings: 1,
  moduleOpenV: residual.volts,
  moduleRunningV: residual.volts,
  earthing: { kind: "floating" },
};

const earthedOhms = resistances(0.1, 5);
const floatingOhms = resistances(1, 5);
const positionsTo = (modules: number): number[] => Array.from({ length: modules + 1 }, (_, at) => at);

/** The earthed array string by string, as it is wired. */
function earthedCircuit(at: number, ohms: number): SpiceCircuit {
  const strings = Array.from({ length: oneDiode.strings }, (_, s) => ({
    id: `S${s + 1}`,
    modules: Array.from({ length: oneDiode.modules }, () => module),
    homeRunOhms: { negative: oneDiode.leadOhms, positive: 0 },
  }));
  const array: ArrayDescription = {
    strings,
    faults: [{ place: { string: "S1", at }, ohms }],
    earthing: { pole: "-", ohms: oneDiode.fuseOhms },
    loadOhms: oneDiode.loadOhms,
  };
  return arrayNetlist(`e${at}k${earthedOhms.indexOf(ohms)}r${ohms}`.replace(/\W/g, "z"), array, undefined, [
    { kind: "earthing-current" },
  ]);
}

/** A string of stiff sources with one node held at earth through an ammeter, or one end through a resistor. */
function stringCircuit(id: string, heldAt: number, heldOhms: number, at: number, ohms: number): SpiceCircuit {
  const node = (k: number): string => `n${k}_${id}`;
  const elements = Array.from({ length: 20 }, (_, k) => `v${k}_${id} ${node(k + 1)} ${node(k)} dc 40`);
  elements.push(`vheld_${id} ${node(heldAt)} held_${id} dc 0`);
  elements.push(heldOhms === 0 ? `vzero_${id} held_${id} 0 dc 0` : `rheld_${id} held_${id} 0 ${heldOhms}`);
  elements.push(`rf_${id} ${node(at)} 0 ${ohms}`);
  return { id, elements, wanted: [`i(vheld_${id})`] };
}

let spice: ReadonlyMap<string, readonly number[]>;
const current = (id: string): number => Math.abs(spice.get(id)![0]!);
const earthedId = (at: number, ohms: number): string => earthedCircuit(at, ohms).id;

beforeAll(async () => {
  const circuits = [
    ...positionsTo(oneDiode.modules).flatMap((at) =>
      [...new Set([...earthedOhms, ...oneDiode.faultOhms])].map((ohms) => earthedCircuit(at, ohms)),
    ),
    ...positionsTo(20).flatMap((at) =>
      floatingOhms.map((ohms, k) => stringCircuit(`f${at}k${k}`, 10, 0, at, ohms)),
    ),
    ...[0, 1, 10, 20].map((at) => stringCircuit(`b${at}`, 0, bonded.earthOhms, at, bonded.faultOhms)),
  ];
  const unique = [...new Map(circuits.map((circuit) => [circuit.id, circuit])).values()];
  spice = await solveWithNgspice(unique);
});

interface Cell {
  readonly seen: boolean;
  readonly currentA: number;
  readonly tripA: number;
}

function expectSameMap(ours: readonly boolean[], theirs: readonly Cell[]): void {
  const wrong = theirs.filter(({ seen }, i) => seen !== ours[i]);
  for (const { currentA, tripA } of wrong) expect(Math.abs(currentA / tripA - 1)).toBeLessThan(BAND);
  expect(wrong.length / theirs.length).toBeLessThanOrEqual(0.01);
}

describe("a string bonded to earth at one end, 1 kΩ fault", () => {
  const stiff = { kind: "linear", openCircuitV: bonded.volts, sourceOhms: 0 } as const;
  const array = {
    ...floating,
    earthing: { ...earthing, ohms: bonded.earthOhms, module: stiff, leadOhms: 0, loadOhms: 1e6 },
  };
  it.each(Object.entries(bonded.milliamps))("at %s: %f mA, the same in ngspice", (position, milliamps) => {
    const at = Number(position);
    const ours = earthCurrentA(array, array.earthing, at, bonded.faultOhms) * 1000;
    expect(ours).toBeCloseTo(milliamps, 3);
    expect(Math.abs(ours - current(`b${at}`) * 1000)).toBeLessThan(1e-3);
  });
});

describe("three strings of four one-diode modules, fuse of 1 A to earth", () => {
  it.each(positionsTo(oneDiode.modules))("earth currents with the fault at %i", (at) => {
    oneDiode.faultOhms.forEach((ohms, r) => {
      const ours = earthCurrentA(earthed, earthing, at, ohms);
      expect(Math.abs(ours - oneDiode.amperes[at]![r]!)).toBeLessThan(1e-3 * ours + 1e-6);
      expect(Math.abs(ours - current(earthedId(at, ohms)))).toBeLessThan(1e-3 * ours + 1e-9);
    });
  });

  it("sees and misses the same faults as ngspice", () => {
    const detectors = { interrupter: { ratedA: oneDiode.fuseA } };
    const map = coverageMap(earthed, detectors, { faultOhms: earthedOhms });
    const ours = map.cells.running.flat().map(({ soon }) => soon === "at-once");
    const theirs = positionsTo(oneDiode.modules).flatMap((at) =>
      earthedOhms.map((ohms): Cell => {
        const currentA = current(earthedId(at, ohms));
        return { seen: currentA > oneDiode.fuseA, currentA, tripA: oneDiode.fuseA };
      }),
    );
    expectSameMap(ours, theirs);
    expect(map.blindPositions).toEqual([0]);
  });
});

describe("a floating string of 20 modules of 40 V, its middle held at earth", () => {
  it.each(Object.entries(residual.kiloohms))(
    "at %s a trip level of 30 mA reaches %f kΩ, a tenth at 300 mA",
    (position, kiloohms) => {
      const reach = residualCurrentA(floating, Number(position), 1) / residual.tripA;
      expect(Math.abs(reach / 1000 - kiloohms)).toBeLessThanOrEqual(0.04);
      expect(residualCurrentA(floating, Number(position), 1) / 0.3).toBeCloseTo(reach / 10, 9);
    },
  );

  it("sees and misses the same faults as ngspice", () => {
    const map = coverageMap(floating, { residual: { tripA: residual.tripA } }, { faultOhms: floatingOhms });
    const ours = map.cells.running.flat().map(({ soon }) => soon === "at-once");
    const theirs = positionsTo(20).flatMap((at) =>
      floatingOhms.map((_, k): Cell => {
        const currentA = current(`f${at}k${k}`);
        return { seen: currentA >= residual.tripA, currentA, tripA: residual.tripA };
      }),
    );
    expectSameMap(ours, theirs);
    expect(map.blindPositions).toEqual([10]);
  });
});

describe("healthy floor against thresholds, by hand", () => {
  it.each(healthy)("$areaM2 m²", ({ areaM2, kiloohms, thresholdKiloohms, margin }) => {
    const found = healthyMargin({
      area: areaM2 as SquareMetres,
      thresholdOhms: (thresholdKiloohms ?? 30) * 1000,
    });
    if (kiloohms !== undefined) expect(found.floorOhms).toBeCloseTo(kiloohms * 1000, 6);
    if (margin !== undefined) expect(found.marginToThreshold).toBeCloseTo(margin, 5);
    expect(kiloohms ?? margin).toBeDefined();
  });
});
