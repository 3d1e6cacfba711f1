import { describe, expect, it } from "vitest";
import { firstRequests, seededRandom } from "../simulate/index.ts";
import { lookUp } from "./configuration-likelihood.ts";
import { benchOf } from "./instruments.ts";
import { integrateClass, integrateHealthy, lnSumExp } from "./one-fault.ts";
import { parabolaAt } from "./parabola.ts";
import { FAULT_RESISTANCE_OHMS } from "./priors.ts";
import { problemOf, type PlaceClass, type Problem } from "./problem.ts";
import { noisyVisit, stringWith } from "./simulated-visit.fixture.ts";

const opened = [
  ...firstRequests("S1"),
  ...firstRequests("S1").map((request) => ({ ...request, segment: [0, 8] as const })),
  ...firstRequests("S1").map((request) => ({ ...request, segment: [8, 20] as const })),
];
const problemWith = (at: number, ohms: number, requests = firstRequests("S1"), seed = 11): Problem => {
  const visit = noisyVisit(stringWith([{ string: "S1", at, ohms }]), seededRandom(seed), requests);
  return problemOf(visit, benchOf(visit));
};

/** ln L of one hypothesis written out configuration by configuration, for one place and one pair of leaks. */
function direct(problem: Problem, placeClass: PlaceClass, share: number, g: number, fault: number): number {
  const entry = { peak: 0, share: 0, variance: 0 };
  let ln = 0;
  problem.measured.forEach((measured, c) => {
    const held = placeClass.contains[c] === 1 ? fault : 0;
    const healthy = g * measured.configuration.moduleCount;
    const total = healthy + held;
    lookUp(measured.table, Math.log(total), entry);
    const place = placeClass.slope[c]! * share + placeClass.offset[c]!;
    const centroid = (healthy * measured.healthyShare + held * place) / total;
    const blurred = entry.variance + measured.mismatchVariance + ((problem.lopsided * healthy) / total) ** 2;
    ln +=
      entry.peak - (centroid - entry.share) ** 2 / (2 * blurred) + 0.5 * Math.log(entry.variance / blurred);
  });
  return ln;
}

describe("the likelihood of one fault as a parabola in its place", () => {
  it.each([
    ["on an intact string", problemWith(5, 30e3)],
    ["on a string opened at node 8", problemWith(5, 30e3, opened)],
  ])("is the likelihood written out, for every place and leak, %s", (_, given) => {
    // Unequal leakage of parts is smeared over the table's peak; without it the sum can be written out.
    const problem = { ...given, leakageSpread: 0 };
    const parabola = { constant: 0, a: 0, b: 0, ceiling: 0 };
    for (const placeClass of problem.classes)
      for (const g of [1e-9, 2e-8])
        for (const fault of [1e-6, 3e-5, 1e-2]) {
          parabolaAt(problem, placeClass, g, fault, problem.lopsided, parabola);
          for (const { share } of placeClass.places) {
            const ln = parabola.constant - parabola.a * share ** 2 - parabola.b * share;
            const expected = direct(problem, placeClass, share, g, fault);
            expect(Math.abs(ln - expected)).toBeLessThan(1e-9 * Math.max(1, Math.abs(expected)));
          }
        }
  });
});

describe("integrating one fault over its resistance and the healthy leakage", () => {
  it.each([
    ["a hard fault", 5, 200],
    ["a fault of 30 kΩ", 13, 30e3],
    ["a fault of 400 kΩ", 5, 400e3],
    ["a fault of 1.6 MΩ", 17, 1.6e6],
  ])("gives the places of a dense grid, 240 by 2,000 over the whole prior: %s", (_, at, ohms) => {
    const problem = problemWith(at, ohms);
    const placeClass = problem.classes[0]!;
    const { lnEvidence } = integrateClass(problem, placeClass);
    const top = Math.max(...lnEvidence);
    const sums = new Float64Array(placeClass.places.length);
    const parabola = { constant: 0, a: 0, b: 0, ceiling: 0 };
    const grid = (count: number, { min, max }: { min: number; max: number }): number[] =>
      Array.from({ length: count }, (_, i) => max ** -1 * (max / min) ** ((i + 0.5) / count));
    for (const g of grid(240, problem.leakageOhms))
      for (const fault of grid(2000, FAULT_RESISTANCE_OHMS)) {
        parabolaAt(problem, placeClass, g, fault, problem.lopsided, parabola);
        if (parabola.constant + parabola.b ** 2 / (4 * parabola.a) < top - 14) continue;
        placeClass.places.forEach(({ share }, p) => {
          sums[p]! += Math.exp(parabola.constant - (parabola.a * share + parabola.b) * share - top);
        });
      }
    const dense = sums.map((sum) => Math.log(sum / (240 * 2000)) + top);
    const shares = (ln: Float64Array): number[] => {
      const weighted = Array.from(ln, (value, p) => value + Math.log(placeClass.weight[p]!));
      const total = lnSumExp(weighted);
      return weighted.map((value) => Math.exp(value - total));
    };
    const ours = shares(lnEvidence);
    const distance = shares(dense).reduce((sum, share, p) => sum + Math.abs(share - ours[p]!), 0) / 2;
    expect(distance).toBeLessThan(0.01);
    expect(Math.abs(lnSumExp(Array.from(lnEvidence)) - lnSumExp(Array.from(dense)))).toBeLessThan(0.1);
  });

  it("keeps a finite evidence for a place that the readings exclude", () => {
    const problem = problemWith(5, 10);
    const { lnEvidence } = integrateClass(problem, problem.classes[0]!);
    expect(lnEvidence.every(Number.isFinite)).toBe(true);
    expect(lnEvidence[0]!).toBeLessThan(Math.max(...lnEvidence) - 100);
  });
});

describe("no point fault", () => {
  it("is likelier for a sound string than with a fault, and the leakage found is the string's", () => {
    const visit = noisyVisit(stringWith([]), seededRandom(5));
    const sound = problemOf(visit, benchOf(visit));
    const { lnEvidence, nodes } = integrateHealthy(sound, sound.lopsided);
    const best = nodes.reduce((a, b) => (b.lnMass > a.lnMass ? b : a));
    expect(1 / best.g / 200e6).toBeGreaterThan(0.9);
    expect(1 / best.g / 200e6).toBeLessThan(1.1);
    const faulty = problemWith(2, 100e3);
    expect(integrateHealthy(faulty, faulty.lopsided).lnEvidence).toBeLessThan(lnEvidence - 50);
  });
});

describe("the logarithm of a sum of exponentials", () => {
  it.each([
    ["nothing", [], -Infinity],
    ["nothing possible", [-Infinity, -Infinity], -Infinity],
    ["one term", [-1234.5], -1234.5],
    ["two alike", [-800, -800], -800 + Math.LN2],
    ["terms too large for a double", [900, 900 + Math.log(3)], 900 + Math.log(4)],
  ])("of %s", (_, values, expected) => {
    if (expected === -Infinity) expect(lnSumExp(values)).toBe(-Infinity);
    else expect(lnSumExp(values)).toBeCloseTo(expected, 9);
  });
});
