import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Volts } from "../quantity/index.ts";
import { moduleVolts, nodeShares, placesOfString } from "./places.ts";
import type { StringSpec } from "./visit.ts";

const WEIGHTS = { connector: 2, inModule: 5, homeRun: 3, combiner: 7 };
const spec = (modules: number, moduleVocs?: readonly number[]): StringSpec => ({
  id: "S1",
  modules,
  ...(moduleVocs === undefined ? {} : { moduleVocs: moduleVocs as readonly Volts[] }),
});

describe("the places of a string", () => {
  it.each([
    ["one module without bypass boundaries has its two ends", 1, 1, [0, 1]],
    ["one module of two sub-strings has its middle too", 1, 2, [0, 0.5, 1]],
    ["two modules of three sub-strings", 2, 3, [0, 1 / 3, 2 / 3, 1, 4 / 3, 5 / 3, 2]],
    ["three modules known only by their junctions", 3, 1, [0, 1, 2, 3]],
  ])("%s", (_, modules, substrings, at) => {
    const places = placesOfString(spec(modules), 0, substrings, WEIGHTS);
    expect(places.map((place) => place.at)).toEqual(at.map((each) => expect.closeTo(each, 12) as number));
  });

  it("names ends, junctions and insides of modules so that a person finds them", () => {
    const labels = placesOfString(spec(2), 4, 2, WEIGHTS).map(({ what, label }) => [what, label]);
    expect(labels).toEqual([
      ["home-run", "S1: negative end, end connector or home-run cable"],
      ["module", "S1: inside module 1, 1/2 of the way up"],
      ["junction", "S1: connectors between modules 1 and 2"],
      ["module", "S1: inside module 2, 1/2 of the way up"],
      ["home-run", "S1: positive end, end connector or home-run cable"],
    ]);
  });

  it("gives each end, each junction and each module its weight, a module's shared among its boundaries", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 2, max: 6 }), (modules, substrings) => {
        const places = placesOfString(spec(modules), 0, substrings, WEIGHTS);
        const sum = (what: string): number =>
          places.filter((place) => place.what === what).reduce((total, { weight }) => total + weight, 0);
        expect(places).toHaveLength(modules * substrings + 1);
        expect(sum("home-run")).toBeCloseTo(2 * WEIGHTS.homeRun, 9);
        expect(sum("junction")).toBeCloseTo((modules - 1) * WEIGHTS.connector, 9);
        expect(sum("module")).toBeCloseTo(modules * WEIGHTS.inModule, 9);
      }),
    );
  });

  it.each([
    ["equal modules rise evenly", undefined, [0, 0.25, 0.5, 0.75, 1]],
    ["a brighter module takes more of the voltage", [10, 10, 60, 20], [0, 0.1, 0.2, 0.8, 1]],
    ["a string of dark modules is taken as even", [0, 0, 0, 0], [0, 0.25, 0.5, 0.75, 1]],
  ])("%s", (_, vocs, shares) => {
    expect([...nodeShares(spec(4, vocs))]).toEqual(shares.map((share) => expect.closeTo(share, 9) as number));
  });

  it("rises strictly from 0 to 1, whatever the modules hold, so that no two nodes are one place", () => {
    const vocs = fc.array(fc.oneof(fc.constant(0), fc.double({ min: 1, max: 60, noNaN: true })), {
      minLength: 1,
      maxLength: 60,
    });
    fc.assert(
      fc.property(vocs, (each) => {
        const shares = nodeShares(spec(each.length, each));
        expect(shares[0]).toBe(0);
        expect(shares[each.length]).toBe(1);
        for (let node = 1; node <= each.length; node++)
          expect(shares[node]! - shares[node - 1]!).toBeGreaterThan(0);
      }),
    );
  });

  it("takes the expected voltage of a module where its own is not given, and 1 where nothing is", () => {
    expect(moduleVolts({ ...spec(2), moduleVoc: 41 as Volts })).toEqual([41, 41]);
    expect(moduleVolts(spec(2))).toEqual([1, 1]);
    expect(moduleVolts({ ...spec(2, [30, 40]), moduleVoc: 41 as Volts })).toEqual([30, 40]);
  });
});
