import { describe, expect, it } from "vitest";
import type { Ohms, Volts } from "../quantity/index.ts";
import { configurationsOf, connectionKey, healthyCentroid, partsOf } from "./configuration.ts";
import { insulation, visitTo, volts } from "./simulated-visit.fixture.ts";
import type { Reading, Visit } from "./visit.ts";

const THREE: Visit = {
  ...visitTo(10, []),
  strings: [
    { id: "S1", modules: 10 },
    { id: "S2", modules: 10 },
    { id: "S3", modules: 8, moduleVoc: 41 as Volts },
  ],
  circuits: [{ id: "C1", strings: ["S1", "S2", "S3"] }],
};
const groups = (...readings: Reading[]): readonly (readonly number[])[] =>
  configurationsOf({ ...THREE, readings }).map((configuration) => configuration.readings.toSorted());

describe("grouping readings by how the circuit was connected", () => {
  it.each([
    [
      "poles, shunts and instruments share a connection",
      [volts("+", "-", 400), volts("-", "earth", 3), insulation("+", 500, 1e6)],
      [[0, 1, 2]],
    ],
    [
      "another string is another connection",
      [volts("+", "earth", 1), volts("+", "earth", 1, { on: "S2" }), volts("-", "earth", 1)],
      [[0, 2], [1]],
    ],
    [
      "a segment of the whole string is not the whole string: its ends were opened",
      [volts("+", "earth", 1), volts("+", "earth", 1, { segment: [0, 10] })],
      [[0], [1]],
    ],
    [
      "isolated strings in any order leave the same ones joined",
      [
        volts("+", "earth", 1, { on: "C1", isolated: ["S1", "S2"] }),
        volts("+", "earth", 1, { on: "C1", isolated: ["S2", "S1"] }),
        volts("+", "earth", 1, { on: "C1", isolated: [] }),
        volts("+", "earth", 1, { on: "C1" }),
      ],
      [
        [0, 1],
        [2, 3],
      ],
    ],
    [
      "a circuit reduced to one string is that string by itself",
      [volts("+", "earth", 1, { on: "C1", isolated: ["S2", "S3"] }), volts("+", "earth", 1)],
      [[0, 1]],
    ],
  ] as const)("%s", (_, readings, expected) => {
    expect(groups(...(readings as readonly Reading[]))).toEqual(expected);
  });

  it("gives the same groups in the same order whichever reading was taken first", () => {
    const readings = [
      volts("+", "earth", 1, { segment: [0, 4] }),
      volts("-", "earth", 3),
      insulation("+", 500, 1e6),
      volts("+", "-", 400),
      volts("+", "earth", 2, { on: "C1" }),
    ];
    const grouped = (taken: readonly Reading[]): unknown =>
      configurationsOf({ ...THREE, readings: taken }).map((one) => one.readings.map((index) => taken[index]));
    expect(grouped(readings)).toHaveLength(3);
    expect(grouped(readings.toReversed())).toEqual(grouped(readings));
  });

  it("counts the modules of all strings joined, and the voltage of one of them", () => {
    const readings = [
      volts("+", "-", 400, { on: "C1", isolated: ["S3"] }),
      volts("+", "-", 330, { on: "S3" }),
    ];
    const [joined, alone] = configurationsOf({ ...THREE, readings });
    expect(joined).toMatchObject({ on: "C1", moduleCount: 20, nominal: 10 });
    expect(alone).toMatchObject({ on: "S3", moduleCount: 8, nominal: 8 * 41 });
  });

  it("takes a segment from its lower to its upper node and marks it as cut", () => {
    const parts = partsOf(THREE, { on: "S2", segment: [2, 7] });
    expect(parts).toEqual([{ string: 1, fromNode: 2, toNode: 7, cut: true }]);
    expect(connectionKey(THREE, { on: "S2", segment: [2, 7] })).not.toBe(connectionKey(THREE, { on: "S2" }));
  });

  it("parts a string that stands alone from the same string left alone on a circuit whose functional earth is closed", () => {
    const readings = [
      volts("+", "-", 330, { on: "C1", isolated: ["S1", "S2"] }),
      volts("+", "-", 330, { on: "S3" }),
    ];
    const earth = { on: "C1", pole: "-", through: 20e3 as Ohms } as const;
    const count = (opened: boolean): number =>
      configurationsOf({ ...THREE, readings, functionalEarth: { ...earth, opened } }).length;
    expect(count(true)).toBe(1);
    expect(count(false)).toBe(2);
  });

  it.each([
    ["in the middle for equal modules", undefined, 0.5],
    // Halves of 30 V and 10 V: midpoints of the modules lie at 15 V and 35 V of 40 V, their mean at 25 V.
    ["drawn towards the weaker module, which lies beyond the stronger", [30, 10], 25 / 40],
  ])("balances even leakage %s", (_, vocs, share) => {
    const strings = [{ id: "S1", modules: 2, ...(vocs ? { moduleVocs: vocs as unknown as Volts[] } : {}) }];
    const [configuration] = configurationsOf({
      ...THREE,
      strings,
      circuits: [],
      readings: [volts("+", "-", 80)],
    });
    expect(healthyCentroid(strings, configuration!)).toBeCloseTo(share, 12);
  });
});
