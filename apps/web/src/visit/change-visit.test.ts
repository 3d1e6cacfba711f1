import { preconditionsFor, type Reading, type Step, type Volts } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import type { KeptVisit } from "../keep/kept.ts";
import { keptVisit } from "./begin-visit.ts";
import {
  afresh,
  cautionsRead,
  chooseStep,
  missing,
  takeReading,
  tick,
  undo,
  untick,
} from "./change-visit.ts";

const NOW = "2026-11-25T09:00:00.000Z";
const hoursLater = (hours: number): string => new Date(Date.parse(NOW) + hours * 3_600_000).toISOString();

const request = (from: "+" | "-") => ({ with: "meter", on: "S1", from, to: "earth" as const });
const opening: Step = {
  action: "open-connector",
  string: "S1",
  at: 7,
  minutes: 14,
  bits: 1,
  why: "splits the places that are left",
  requires: preconditionsFor("open-connector"),
  readings: [request("-"), request("+")],
};
const reading: Reading = { kind: "voltage", ...request("-"), value: 10 as Volts };

const begun = keptVisit({
  id: "v",
  title: "Mill",
  now: NOW,
  visit: {
    strings: [{ id: "S1", modules: 20 }],
    circuits: [],
    instruments: [],
    conditions: {},
    readings: [],
    costs: {},
  },
});
const allTicked = (kept: KeptVisit, at = NOW): KeptVisit =>
  missing(kept, opening, at).reduce((now, id) => tick(now, opening, id, at), kept);

describe("a step and its preconditions", () => {
  it("waits for every precondition, proven zero current among them, until each is ticked", () => {
    expect(missing(begun, opening, NOW)).toEqual(preconditionsFor("open-connector"));
    expect(missing(begun, opening, NOW)).toContain("zero-current-proven");
    expect(missing(allTicked(begun), opening, NOW)).toEqual([]);
    expect(missing(untick(allTicked(begun), "zero-current-proven"), opening, NOW)).toEqual([
      "zero-current-proven",
    ]);
  });

  it("asks for proven zero current anew for the next opening, and not again for the licence", () => {
    const first = takeReading(allTicked(begun), opening, reading, NOW);
    const done = takeReading(first, opening, reading, NOW);
    expect(missing(first, opening, NOW)).toEqual([]);
    expect(missing(done, opening, NOW)).toContain("zero-current-proven");
    expect(missing(done, opening, NOW)).toContain("metal-proved-dead");
    expect(missing(done, opening, NOW)).not.toContain("licensed-person");
  });

  it("asks for everything again after four hours, and after a clock set back", () => {
    const ticked = allTicked(begun);
    expect(missing(ticked, opening, hoursLater(3.9))).toEqual([]);
    expect(missing(ticked, opening, hoursLater(4.1))).toEqual(preconditionsFor("open-connector"));
    expect(missing(ticked, opening, hoursLater(-1))).toEqual(preconditionsFor("open-connector"));
  });

  it("drops what was ticked for the moment when another step is chosen", () => {
    const chosen = chooseStep(allTicked(begun), { ...opening, at: 9 });
    expect(missing(chosen, opening, NOW)).toContain("zero-current-proven");
  });
});

describe("readings of a visit", () => {
  it("are held to their step until its last one", () => {
    const first = takeReading(begun, opening, reading, NOW);
    expect([first.step, first.taken]).toEqual([opening, 1]);
    const second = takeReading(first, opening, reading, NOW);
    expect([second.step, second.taken, second.visit.readings.length]).toEqual([null, 0, 2]);
  });

  it("are taken back one by one by undo, to the state before each", () => {
    const two = takeReading(takeReading(begun, opening, reading, NOW), opening, reading, NOW);
    const one = undo(two, NOW);
    expect([one.visit.readings.length, one.taken, one.step]).toEqual([1, 1, opening]);
    expect(undo(undo(one, NOW), NOW).visit).toEqual(begun.visit);
  });

  it("carry what was recorded as made sure of", () => {
    const taken = takeReading(allTicked(begun), opening, reading, NOW);
    expect(taken.visit.recorded).toEqual(expect.arrayContaining(["zero-current-proven", "access-safe"]));
  });

  it("do not go along into a visit begun afresh", () => {
    const again = afresh(takeReading(allTicked(begun), opening, reading, NOW), {
      id: "w",
      now: NOW,
      wet: false,
    });
    expect(again.visit).toMatchObject({
      readings: [],
      recorded: [],
      conditions: { wet: false },
      strings: begun.visit.strings,
    });
    expect([again.id, again.ticks, again.read]).toEqual(["w", {}, {}]);
  });

  it("hold their step from the moment its cautions are read, which are then read", () => {
    const read = cautionsRead(begun, opening, NOW);
    expect(read.step).toEqual(opening);
    expect(read.read["prove-zero-current"]).toBe(NOW);
  });
});
