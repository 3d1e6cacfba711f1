import { describe, expect, test } from "vitest";
import { drawScenario, SIMULATED_KINDS, type SimulatedKind } from "./kinds.ts";
import { seededRandom } from "./random.ts";

const kinds = Object.keys(SIMULATED_KINDS) as SimulatedKind[];

describe("kinds of simulated array", () => {
  test.each(kinds)("%s: the same seed draws the same scenario", (kind) => {
    expect(drawScenario(kind, seededRandom(5))).toEqual(drawScenario(kind, seededRandom(5)));
  });

  test.each(kinds)("%s: damage lies on a junction or a sub-string boundary of its own string", (kind) => {
    for (let seed = 1; seed <= 40; seed++) {
      const { scenario } = drawScenario(kind, seededRandom(seed));
      for (const fault of scenario.faults) {
        if (!("at" in fault)) throw new Error("every simulated kind places its damage by modules");
        const modules = scenario.strings.find(({ id }) => id === fault.string)?.modules ?? -1;
        expect(fault.at).toBeGreaterThanOrEqual(0);
        expect(fault.at).toBeLessThanOrEqual(modules);
        expect(Math.abs(fault.at * 3 - Math.round(fault.at * 3))).toBeLessThan(1e-9);
      }
    }
  });

  test.each([
    ["none", 0],
    ["hard", 1],
    ["two", 2],
  ] as const)("%s holds %i faults", (kind, count) => {
    expect(drawScenario(kind, seededRandom(9)).scenario.faults).toHaveLength(count);
  });
});
