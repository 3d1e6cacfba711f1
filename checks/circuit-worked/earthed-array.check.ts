import { beforeAll, describe, expect, it } from "vitest";
import { solveArray, type ArrayDescription, type ArraySolution, type ModuleSource } from "@earthbell/engine";
import { arrayNetlist } from "../circuit-ngspice/array-netlist.ts";
import { solveWithNgspice } from "../circuit-ngspice/ngspice.ts";
import cases from "./cases.json" with { type: "json" };

const { earthedArray } = cases;
const module: ModuleSource = { kind: "single-diode", ...earthedArray.module };

function faulted(strings: number, loadOhms: number, at: number, faultOhms: number): ArrayDescription {
  return {
    strings: Array.from({ length: strings }, (_, index) => ({
      id: `S${index}`,
      modules: Array.from({ length: earthedArray.modules }, () => module),
      homeRunOhms: { positive: 0, negative: earthedArray.negativeLeadOhms },
    })),
    faults: [{ place: { string: "S0", at }, ohms: faultOhms }],
    earthing: { pole: "-", ohms: earthedArray.fuseOhms },
    loadOhms,
  };
}

const table = earthedArray.rows.flatMap(({ at, fuseA, arrayV }) =>
  earthedArray.faultOhms.map((faultOhms, column) => ({
    id: `g${at}x${column}`,
    at,
    faultOhms,
    fuseA: fuseA[column]!,
    arrayV: arrayV[column]!,
    array: faulted(earthedArray.strings, earthedArray.loadOhms, at, faultOhms),
  })),
);

/** Fault current comes back to the array out of earth through the fuse; printed positive that way. */
const fuseA = (solved: ArraySolution): number => -solved.earthingCurrentA;
const arrayV = (solved: ArraySolution): number =>
  solved.potentialV({ bus: "+" }) - solved.potentialV({ bus: "-" });

describe("one-diode module [computed outside: ngspice 39.3 and a separate Newton solver]", () => {
  const loaded = (loadOhms: number): ArraySolution =>
    solveArray({
      strings: [{ id: "S", modules: [module] }],
      faults: [],
      earthing: { pole: "-", ohms: 1 },
      loadOhms,
    });

  it("open circuit, short circuit and maximum power", () => {
    expect(Math.abs(arrayV(loaded(1e9)) - earthedArray.openCircuitV)).toBeLessThanOrEqual(5e-6);
    expect(Math.abs(loaded(0).moduleCurrentA("S", 0) - earthedArray.shortCircuitA)).toBeLessThanOrEqual(5e-7);
    const { maximumPowerV, maximumPowerA } = earthedArray;
    const atMaximum = loaded(maximumPowerV / maximumPowerA);
    expect(Math.abs(arrayV(atMaximum) - maximumPowerV)).toBeLessThanOrEqual(0.005);
    expect(Math.abs(atMaximum.moduleCurrentA("S", 0) - maximumPowerA)).toBeLessThanOrEqual(0.001);
  });
});

describe("earthed one-diode array with a fault, to 1e-4 of the printed table", () => {
  it.each(table)("$faultOhms Ω at junction $at: $fuseA A through the fuse, $arrayV V", (row) => {
    const solved = solveArray(row.array);
    expect(Math.abs(fuseA(solved) - row.fuseA)).toBeLessThanOrEqual(1e-4);
    expect(Math.abs(arrayV(solved) - row.arrayV)).toBeLessThanOrEqual(1e-4);
  });

  it("a bolted fault at the earthed end stays under a 1 A fuse: the blind spot", () => {
    const blind = solveArray(faulted(earthedArray.strings, earthedArray.loadOhms, 0, 0.1));
    expect(Math.abs(fuseA(blind))).toBeLessThan(1);
    expect(fuseA(blind)).toBeLessThan(0);
  });

  it("five strings near open circuit feed 24.894 A into a bolted fault at the positive end", () => {
    const { loadOhms, at, faultOhms, fuseA: printed } = earthedArray.fiveStrings;
    const solved = solveArray(faulted(5, loadOhms, at, faultOhms));
    expect(Math.abs(fuseA(solved) - printed)).toBeLessThanOrEqual(0.0005);
  });
});

describe("the same table by the ngspice of this machine, at test time", () => {
  let spice: ReadonlyMap<string, readonly number[]>;

  beforeAll(async () => {
    spice = await solveWithNgspice(
      table.map(({ id, array }) =>
        arrayNetlist(id, array, undefined, [
          { kind: "earthing-current" },
          { kind: "potential", probe: { bus: "+" } },
          { kind: "potential", probe: { bus: "-" } },
        ]),
      ),
    );
  });

  it.each(table)("$faultOhms Ω at junction $at", ({ id, array }) => {
    const solved = solveArray(array);
    const [earthing, positive, negative] = spice.get(id) as [number, number, number];
    expect(Math.abs(solved.earthingCurrentA - earthing)).toBeLessThanOrEqual(1e-4);
    expect(Math.abs(arrayV(solved) - (positive - negative))).toBeLessThanOrEqual(1e-4);
  });
});
