import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { firstRequests, seededRandom } from "../simulate/index.ts";
import { benchOf } from "./instruments.ts";
import { integrateClass } from "./one-fault.ts";
import { posteriorOf } from "./posterior.ts";
import { problemOf } from "./problem.ts";
import { noisyVisit, stringWith } from "./simulated-visit.fixture.ts";
import { lnParabolaMean, sameClassEvidence } from "./two-faults.ts";

describe("the mean of exp(−a·x² − b·x) over a stretch", () => {
  it("agrees with a dense sum wherever the parabola lies, to 2 % or where it is below e⁻⁴⁰ of its top", () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        number(-3, 4),
        number(-0.5, 1.5),
        number(0, 0.9),
        number(0.02, 1),
        (power, centre, low, span) => {
          const a = 10 ** power;
          const b = -2 * a * centre;
          const high = low + span;
          let top = -Infinity;
          const exponents = Array.from({ length: 20_001 }, (_, i) => {
            const x = low + (span * i) / 20_000;
            const exponent = -a * x * x - b * x;
            top = Math.max(top, exponent);
            return exponent;
          });
          const dense = top + Math.log(exponents.reduce((sum, e) => sum + Math.exp(e - top), 0) / 20_001);
          const found = lnParabolaMean(a, b, low, high);
          if (dense < (b * b) / (4 * a) - 25) expect(Math.abs(found - dense)).toBeLessThan(1.5);
          else expect(Math.abs(found - dense)).toBeLessThan(0.02);
        },
      ),
      { numRuns: 300 },
    );
  });
});

const halves = (node: number) =>
  (
    [
      [0, node],
      [node, 20],
    ] as const
  ).flatMap((segment) => firstRequests("S1").map((request) => ({ ...request, segment })));
const posteriorAfter = (
  faults: Parameters<typeof stringWith>[0],
  requests: Parameters<typeof noisyVisit>[2],
  seed: number,
) => {
  const visit = noisyVisit(stringWith(faults), seededRandom(seed), requests);
  return posteriorOf(problemOf(visit, benchOf(visit)));
};

describe("two faults in one string", () => {
  const pair = [
    { string: "S1", at: 5, ohms: 50e3 },
    { string: "S1", at: 15, ohms: 100e3 },
  ];

  it.each([1, 2, 3])("look like one from the terminals: the prior's odds hardly move (draw %i)", (seed) => {
    const { hypotheses } = posteriorAfter(pair, firstRequests("S1"), seed);
    // Prior odds of two to one fault 0.04 to 0.73; a place between two junctions can only raise them.
    expect(hypotheses.two).toBeGreaterThan(0.01);
    expect(hypotheses.two).toBeLessThan(0.5);
  });

  it.each([4, 5, 6])("are told apart once the string is opened between them (draw %i)", (seed) => {
    const { hypotheses } = posteriorAfter(pair, [...firstRequests("S1"), ...halves(10)], seed);
    expect(hypotheses.two).toBeGreaterThan(0.99);
  });

  it.each([7, 8, 9])("are not seen in one fault that an opening leaves on one side (draw %i)", (seed) => {
    const { hypotheses } = posteriorAfter(pair.slice(0, 1), [...firstRequests("S1"), ...halves(10)], seed);
    expect(hypotheses.one).toBeGreaterThan(0.99);
  });

  it("cost the same as one fault anywhere on the stretch that no reading divides", () => {
    const visit = noisyVisit(stringWith(pair), seededRandom(4));
    const problem = problemOf(visit, benchOf(visit));
    const evidence = integrateClass(problem, problem.classes[0]!);
    const between = evidence.lnEvidence.reduce((a, b) => Math.max(a, b), -Infinity);
    expect(sameClassEvidence(evidence)).toBeLessThan(between);
    expect(sameClassEvidence(evidence)).toBeGreaterThan(between - 6);
  });
});
