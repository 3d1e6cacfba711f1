import type { Reading, Visit, Volts } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import { effortOf, halvingEffort, isRight } from "./score.ts";

const reading = (segment?: readonly [number, number]): Reading => ({
  kind: "voltage",
  with: "meter",
  on: "S1",
  from: "+",
  to: "earth",
  ...(segment === undefined ? {} : { segment }),
  value: 1 as Volts,
});

const visitWith = (readings: readonly Reading[], strings = 1): Visit => ({
  strings: Array.from({ length: strings }, (_, i) => ({ id: `S${i + 1}`, modules: 20 })),
  circuits: [],
  instruments: [],
  conditions: {},
  readings,
  costs: {},
});

describe("the score of an exercise", () => {
  it("counts a connector once however many readings are taken at it, and no end of the string", () => {
    const effort = effortOf(visitWith([reading(), reading([0, 7]), reading([7, 20]), reading([7, 20])]));
    expect(effort.openings).toBe(1);
    expect(effort.minutes).toBe(12 + 4);
  });

  it.each([
    [20, 5],
    [15, 4],
  ])(
    "takes halving %d modules to need %d openings (binary search over junctions and ends)",
    (modules, openings) => {
      const visit = { ...visitWith([]), strings: [{ id: "S1", modules }] };
      expect(halvingEffort(visit).openings).toBe(openings);
    },
  );

  it("charges halving for parting joined strings", () => {
    expect(halvingEffort(visitWith([], 8)).minutes).toBeGreaterThan(halvingEffort(visitWith([])).minutes);
  });

  it.each([
    [{ string: "S1", at: 7 }, true],
    [{ string: "S1", at: 7.5 }, true],
    [{ string: "S1", at: 8 }, false],
    [{ string: "S2", at: 7 }, false],
    [null, false],
  ])("calls %j right where the damage is at junction 7 of S1: %s", (guess, right) => {
    expect(isRight(guess, [{ string: "S1", at: 7, ohms: 1000 }])).toBe(right);
  });

  it("calls a sound string right only when no place is named", () => {
    expect(isRight(null, [])).toBe(true);
    expect(isRight({ string: "S1", at: 3 }, [])).toBe(false);
  });
});
