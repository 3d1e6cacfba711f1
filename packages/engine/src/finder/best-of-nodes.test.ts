import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bestOfNodes } from "./best-of-nodes.ts";

/** Nodes as healthyNodes lays them: evenly over the prior, and eleven more on each needle. */
function nodesWith(
  needles: readonly { readonly at: number; readonly sigma: number }[],
  even: number,
): number[] {
  const nodes = Array.from({ length: even }, (_, i) => (6 * i) / (even - 1));
  for (const { at, sigma } of needles)
    for (const z of [-4, -3.2, -2.4, -1.6, -0.8, 0, 0.8, 1.6, 2.4, 3.2, 4]) nodes.push(at + z * sigma);
  return nodes.filter((node) => node >= 0 && node <= 6).sort((a, b) => a - b);
}

describe("the best of many nodes, found from few", () => {
  const needle = fc.record({
    at: fc.double({ min: 0.2, max: 5.8, noNaN: true }),
    sigma: fc.double({ min: 0.002, max: 0.4, noNaN: true }),
  });

  test("every node within e⁻³⁰ of the best is tried, whatever needles make the likelihood", () => {
    fc.assert(
      fc.property(
        fc.array(needle, { minLength: 1, maxLength: 3 }),
        fc.integer({ min: 30, max: 400 }),
        (needles, even) => {
          const nodes = nodesWith(needles, even);
          // Needles multiply, as connections that all hold the same leakage do.
          const ln = (x: number): number =>
            needles.reduce((sum, { at, sigma }) => sum - 0.5 * ((x - at) / sigma) ** 2, 0);
          const truth = nodes.map(ln);
          const top = Math.max(...truth);
          const found = bestOfNodes(nodes, (i) => truth[i]!);
          truth.forEach((value, i) => {
            if (value > top - 30) expect(found[i]).toBe(value);
          });
        },
      ),
      { numRuns: 500 },
    );
  });

  test("of 800 nodes with one needle a small part is tried", () => {
    const nodes = nodesWith([{ at: 2.2, sigma: 0.01 }], 800);
    let tried = 0;
    bestOfNodes(nodes, (i) => {
      tried++;
      return -0.5 * ((nodes[i]! - 2.2) / 0.01) ** 2;
    });
    expect(tried).toBeLessThan(200);
  });

  test("where nothing tells, every node is tried", () => {
    const nodes = nodesWith([], 100);
    expect([...bestOfNodes(nodes, () => 0)]).toEqual(nodes.map(() => 0));
  });
});
