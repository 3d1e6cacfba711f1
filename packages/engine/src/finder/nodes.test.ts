import { describe, expect, it } from "vitest";
import { firstRequests, seededRandom } from "../simulate/index.ts";
import { benchOf } from "./instruments.ts";
import { faultNodes, healthyNodes, type Nodes } from "./nodes.ts";
import { FAULT_RESISTANCE_OHMS, MODULE_LEAKAGE_OHMS } from "./priors.ts";
import { problemOf, type Problem } from "./problem.ts";
import { circuitWith, noisyVisit, stringWith, visitTo } from "./simulated-visit.fixture.ts";

const problemWith = (faults: Parameters<typeof stringWith>[0], wet = false): Problem => {
  const visit = noisyVisit({ ...stringWith(faults), wet }, seededRandom(7));
  return problemOf(visit, benchOf(visit));
};
const mass = ({ lnWeight }: Nodes): number => lnWeight.reduce((sum, ln) => sum + Math.exp(ln), 0);
const HELD = Uint8Array.of(1);

const PROBLEMS: readonly (readonly [string, Problem])[] = [
  ["no reading", problemOf(visitTo(20, []), benchOf(visitTo(20, [])))],
  ["a bolted fault", problemWith([{ string: "S1", at: 4, ohms: 10 }])],
  ["a fault of 10 kΩ", problemWith([{ string: "S1", at: 4, ohms: 10e3 }])],
  ["a fault of 1 MΩ", problemWith([{ string: "S1", at: 4, ohms: 1e6 }])],
  ["a wet string", problemWith([], true)],
];

describe.each(PROBLEMS)("quadrature nodes after %s", (_, problem) => {
  const limits = problem.bench.wet ? MODULE_LEAKAGE_OHMS.wet : MODULE_LEAKAGE_OHMS.dry;
  const held = HELD.slice(0, problem.measured.length);

  it.each([
    ["with the fault in what was read", held],
    ["with the fault elsewhere", null],
  ])("the weights over healthy leakage hold its whole prior, %s", (_, contains) => {
    const nodes = healthyNodes(problem, contains);
    expect(mass(nodes)).toBeCloseTo(1, 9);
    expect(Math.exp(-nodes.ln[0]!)).toBeCloseTo(limits.max, -3);
    expect(Math.exp(-nodes.ln[nodes.ln.length - 1]!)).toBeCloseTo(limits.min, -1);
  });

  it("the weights over the fault hold its whole prior where nothing that was read holds it", () => {
    expect(mass(faultNodes(problem, new Uint8Array(problem.measured.length))(1e-8))).toBeCloseTo(1, 9);
  });

  it("the weights over the fault never hold more than its prior, and every node lies within its limits", () => {
    for (const g of [5e-10, 5e-9, 1e-7]) {
      const nodes = faultNodes(problem, held)(g);
      expect(nodes.ln.length).toBeGreaterThan(0);
      expect(mass(nodes)).toBeLessThan(1 + 1e-9);
      for (const ln of nodes.ln) {
        expect(Math.exp(-ln)).toBeLessThan(FAULT_RESISTANCE_OHMS.max * (1 + 1e-9));
        expect(Math.exp(-ln)).toBeGreaterThan(FAULT_RESISTANCE_OHMS.min * (1 - 1e-9));
      }
    }
  });

  it("the nodes ascend", () => {
    for (const { ln } of [healthyNodes(problem, held), faultNodes(problem, held)(1e-8)])
      for (let i = 1; i < ln.length; i++) expect(ln[i]!).toBeGreaterThan(ln[i - 1]!);
  });
});

describe("nodes follow the needle", () => {
  it("put at least nine nodes within four widths of the conductance that a shunt measures sharply", () => {
    const problem = problemWith([{ string: "S1", at: 4, ohms: 100e3 }]);
    const { best } = problem.measured[0]!.table;
    const { ln } = faultNodes(problem, HELD)(5e-9);
    const near = ln.filter((node) => {
      const total = Math.exp(node) + 5e-9 * 20;
      return Math.abs(Math.log(total) - best.lnG) < 4 * best.sigma;
    });
    expect(near.length).toBeGreaterThanOrEqual(9);
  });

  it("crowd over healthy leakage where a sound string was measured by itself", () => {
    const scenario = circuitWith([{ string: "S2", at: 4, ohms: 10e3 }]);
    const visit = noisyVisit(scenario, seededRandom(3), [...firstRequests("C1"), ...firstRequests("S1")]);
    const problem = problemOf(visit, benchOf(visit));
    const sound = problem.measured.findIndex(({ configuration }) => configuration.on === "S1");
    const { lnG, sigma } = problem.measured[sound]!.table.best;
    const contains = Uint8Array.from(problem.measured, (_, c) => Number(c !== sound));
    const { ln } = healthyNodes(problem, contains);
    const near = ln.filter((node) => Math.abs(node + Math.log(20) - lnG) < 4 * Math.hypot(sigma, 0.03));
    expect(near.length).toBeGreaterThanOrEqual(9);
  });
});
