import { describe, expect, it } from "vitest";
import { firstRequests, seededRandom } from "../simulate/index.ts";
import { benchOf } from "./instruments.ts";
import { locate } from "./locate.ts";
import { problemOf } from "./problem.ts";
import { separatePlaces } from "./separate-places.ts";
import { circuitWith, noisyVisit, stringWith } from "./simulated-visit.fixture.ts";

const halves = (...segments: readonly (readonly [number, number])[]) => [
  ...firstRequests("S1"),
  ...segments.flatMap((segment) => firstRequests("S1").map((request) => ({ ...request, segment }))),
];
const placesOf = (visit: Parameters<typeof locate>[0]) => {
  const problem = problemOf(visit, benchOf(visit));
  const probabilities = separatePlaces(problem);
  return problem.places.map((place, i) => ({ ...place, probability: probabilities[i]! }));
};

describe("the places of several faults", () => {
  it("are read in each half by itself, and share the probability", () => {
    const faults = [
      { string: "S1", at: 4, ohms: 50e3 },
      { string: "S1", at: 16, ohms: 60e3 },
    ];
    const visit = noisyVisit(stringWith(faults), seededRandom(8), halves([0, 10], [10, 20]));
    const places = placesOf(visit);
    expect(places.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 9);
    const likely = places.filter(({ probability }) => probability > 0.2).map(({ at }) => at);
    expect(likely).toEqual([4, 16]);
    expect(locate(visit).verdict).toBe("more-than-one");
  });

  it("leave out a part that is no leakier than the cleanest", () => {
    const faults = [
      { string: "S1", at: 2, ohms: 50e3 },
      { string: "S1", at: 6, ohms: 50e3 },
    ];
    const segments = [
      [0, 4],
      [4, 10],
      [10, 20],
    ] as const;
    const places = placesOf(noisyVisit(stringWith(faults), seededRandom(9), halves(...segments)));
    expect(places.filter(({ at, probability }) => at > 10 && probability > 1e-6)).toEqual([]);
  });

  it("are found in two strings of a circuit that were read by themselves", () => {
    const scenario = circuitWith([
      { string: "S2", at: 7, ohms: 20e3 },
      { string: "S4", at: 12, ohms: 30e3 },
    ]);
    const requests = ["C1", "S1", "S2", "S3", "S4"].flatMap(firstRequests);
    const visit = noisyVisit(scenario, seededRandom(10), requests);
    const finding = locate(visit);
    expect(finding.verdict).toBe("more-than-one");
    const likely = finding.places.filter(({ probability }) => probability > 0.2);
    expect(likely.map(({ string, at }) => `${string} ${String(at)}`).sort()).toEqual(["S2 7", "S4 12"]);
  });
});
