import { type DecibelsA, hearing, levelsTogether, mayRouse, type Metres, soundAt } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import cases from "./cases.json" with { type: "json" };

const dB = (level: number): DecibelsA => level as DecibelsA;

describe("inverse-square law", () => {
  it.each(Object.entries(cases.distance.levels))(
    "100 dB(A) at 1 m is, at %s m, %f dB(A)",
    (distance, level) => {
      const here = soundAt(dB(cases.distance.levelAt1m), Number(distance) as Metres);
      expect(here).toBeCloseTo(level, 2);
    },
  );
});

describe("sounds together", () => {
  it.each(Object.entries(cases.together))("%s", (_, [levels, together]) => {
    expect(levelsTogether(levels as number[])).toBeCloseTo(together as number, 2);
  });
});

describe("ISO 7731:2003, A-weighted criterion", () => {
  it.each(cases.hearing)("$level dB(A) over $ambient dB(A) is $heard", ({ level, ambient, heard }) => {
    expect(hearing(level, ambient)).toBe(heard);
  });
});

describe("bedroom, 75 dB(A) at the bedhead with the door shut", () => {
  const { levelAt1m, distanceM, doorDb, atBedhead, doorDbStronger, atBedheadStronger } = cases.bedroom;
  it.each([
    [doorDb, atBedhead, true],
    [doorDbStronger, atBedheadStronger, false],
  ])("through a door of %i dB: %f dB(A), may rouse: %s", (door, level, rouses) => {
    const sounder = { levelAt1m: dB(levelAt1m), distance: distanceM as Metres, barriers: [dB(door)] };
    const found = mayRouse([sounder]);
    expect(found.level).toBeCloseTo(level, 2);
    expect(found.mayRouse).toBe(rouses);
  });
});
