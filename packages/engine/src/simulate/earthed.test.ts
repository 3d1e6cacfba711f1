import { describe, expect, test } from "vitest";
import { solveArray } from "../circuit/index.ts";
import { locate } from "../finder/locate.ts";
import type { Finding } from "../finder/finding.ts";
import { firstRequests } from "./first-requests.ts";
import { drawScenario, type DrawnScenario, type SimulatedKind } from "./kinds.ts";
import { exactReading, measure } from "./measure.ts";
import { seededRandom, type Random } from "./random.ts";
import { drawTruth } from "./truth.ts";
import { visitOf } from "./visit-of.ts";

/** Follows the plan to its end, or for twelve steps. */
function walk({ scenario, on }: DrawnScenario, random: Random): Finding {
  const truth = drawTruth(scenario, random);
  let readings = firstRequests(on).map((request) => measure(truth, request, random));
  let finding = locate(visitOf(scenario, readings));
  for (let step = 0; step < 12 && finding.next[0]; step++) {
    readings = [...readings, ...finding.next[0].readings.map((request) => measure(truth, request, random))];
    finding = locate(visitOf(scenario, readings));
  }
  return finding;
}

function walks(kind: SimulatedKind, count: number): { drawn: DrawnScenario; finding: Finding }[] {
  const random = seededRandom(61);
  return Array.from({ length: count }, () => {
    const drawn = drawScenario(kind, random);
    return { drawn, finding: walk(drawn, random) };
  });
}

function isNamed({ drawn, finding }: { drawn: DrawnScenario; finding: Finding }): boolean {
  const [fault] = drawn.scenario.faults;
  const [place] = finding.places;
  return "at" in fault! && place?.string === fault.string && Math.abs(place.at - fault.at) < 1e-6;
}

describe("functionally earthed arrays, measured until the plan ends", { timeout: 240_000 }, () => {
  test.each(["earthed", "earthed-resistor"] as const)(
    "%s: the damaged place is named in at least 19 of 20, and nothing contradicts",
    (kind) => {
      const done = walks(kind, 20);
      expect(done.filter(({ drawn }) => drawn.on === "C1").length).toBeGreaterThan(4);
      expect(done.filter(({ drawn }) => drawn.on === "S1").length).toBeGreaterThan(4);
      expect(done.filter(isNamed).length).toBeGreaterThanOrEqual(19);
      expect(done.filter(({ finding }) => finding.verdict === "inconsistent")).toEqual([]);
    },
  );

  test("closed through a fuse, every visit is declined and the opening asked for first", () => {
    for (const { finding } of walks("earthed-fuse", 20))
      expect(finding).toMatchObject({ verdict: "cannot-tell", codes: ["READING_EARTH_CLOSED"], next: [] });
  });
});

describe("a functional earth of the simulated array", () => {
  const random = seededRandom(5);
  const drawn = drawScenario("earthed-resistor", random);
  const earth = { on: "S1", pole: "-", through: "resistor", ohms: 20e3, opened: false } as const;
  const strings = [{ ...drawn.scenario.strings[0]!, id: "S1" }];
  const faults = [{ string: "S1", at: 4, ohms: 50e3 }];
  const truth = drawTruth(
    { ...drawn.scenario, strings, circuits: [], faults, functionalEarth: earth },
    random,
  );
  const reading = { with: "meter", on: "S1", from: "+", to: "earth" } as const;

  test("is a resistor from its pole to earth in the network that is read", () => {
    const string = { ...truth.strings.get("S1")!, fuseOut: { positive: true, negative: true } };
    const wired = {
      strings: [string],
      faults: [...truth.faults, { place: { string: "S1", at: 0 }, ohms: 20e3 }],
    };
    const inputOhms = truth.meterInputOhms;
    const from = { string: "S1", homeRun: "+" } as const;
    const solved = solveArray(wired, { kind: "voltmeter", from, to: "earth", inputOhms });
    expect(exactReading(truth, reading) / solved.reading!).toBeCloseTo(1, 6);
  });

  test("is apart from a stretch between opened connectors, and from the array once opened", () => {
    const floating = {
      ...truth,
      scenario: { ...truth.scenario, functionalEarth: { ...earth, opened: true } },
    };
    const segment = { ...reading, segment: [0, 3] } as const;
    expect(exactReading(truth, segment)).toBe(exactReading(floating, segment));
    expect(Math.abs(exactReading(truth, reading) - exactReading(floating, reading))).toBeGreaterThan(10);
  });

  test("is written into the visit as a person knows it: a resistor with its size, a fuse without", () => {
    expect(visitOf(truth.scenario, []).functionalEarth).toEqual({
      on: "S1",
      pole: "-",
      through: 20e3,
      opened: false,
    });
    const fused = { ...truth.scenario, functionalEarth: { ...earth, through: "fuse", ohms: 0.1 } } as const;
    expect(visitOf(fused, []).functionalEarth).toEqual({ on: "S1", pole: "-", opened: false });
  });
});
