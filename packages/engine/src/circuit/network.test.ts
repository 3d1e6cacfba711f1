import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CircuitError } from "./circuit-error.ts";
import { EARTH, solveNetwork, type Branch } from "./network.ts";

const decades = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((power) => 10 ** power);
const nodeName = (index: number): string => (index === 0 ? EARTH : `n${index}`);

interface Drawn {
  readonly nodes: number;
  readonly branches: readonly Branch[];
}

/** Resistors along a random tree from earth, so that every node is held, and more branches across it. */
const linearNetwork: fc.Arbitrary<Drawn> = fc.integer({ min: 3, max: 8 }).chain((nodes) => {
  const tree = Array.from({ length: nodes - 1 }, (_, index) =>
    fc.record({ to: fc.integer({ min: 0, max: index }), ohms: decades(-1, 8) }),
  );
  const across = fc.array(
    fc.record({
      ends: fc.uniqueArray(fc.integer({ min: 0, max: nodes - 1 }), { minLength: 2, maxLength: 2 }),
      ohms: decades(-1, 8),
      volts: fc.double({ min: -50, max: 50, noNaN: true }),
      amperes: fc.double({ min: -5, max: 5, noNaN: true }),
      kind: fc.constantFrom("resistor" as const, "voltage-source" as const, "current-source" as const),
    }),
    { minLength: 1, maxLength: 8 },
  );
  return fc.tuple(fc.tuple(...tree), across).map(([drawnTree, drawnAcross]) => ({
    nodes,
    branches: [
      ...drawnTree.map(({ to, ohms }, index): Branch => {
        const name = `tree ${index}`;
        return { name, from: nodeName(index + 1), to: nodeName(to), kind: "resistor", ohms };
      }),
      ...drawnAcross.map(({ ends, ...kind }, index): Branch => {
        const [from, to] = ends as [number, number];
        return { name: `across ${index}`, from: nodeName(from), to: nodeName(to), ...kind };
      }),
    ],
  }));
});

const silenced = (branch: Branch): Branch =>
  branch.kind === "voltage-source"
    ? { ...branch, volts: 0 }
    : branch.kind === "current-source"
      ? { ...branch, amperes: 0 }
      : branch;

/** Relative to the largest value at hand, which sets the rounding of all; a picovolt or picoampere is nothing. */
function expectClose(actual: number, expected: number, scale: number): void {
  expect(Math.abs(actual - expected)).toBeLessThanOrEqual(1e-7 * scale + 1e-12);
}

describe("solving a network", () => {
  it("gives a bridge its textbook balance: no current across when the arms are in proportion", () => {
    // Wheatstone: 10/20 = 30/60, so the galvanometer carries nothing and 90 Ω ∥ 30 Ω hang on 12 V.
    const solved = solveNetwork([
      { name: "battery", from: EARTH, to: "top", kind: "voltage-source", volts: 12, ohms: 0 },
      { name: "a", from: "top", to: "left", kind: "resistor", ohms: 10 },
      { name: "b", from: "left", to: EARTH, kind: "resistor", ohms: 20 },
      { name: "c", from: "top", to: "right", kind: "resistor", ohms: 30 },
      { name: "d", from: "right", to: EARTH, kind: "resistor", ohms: 60 },
      { name: "galvanometer", from: "left", to: "right", kind: "resistor", ohms: 5 },
    ]);
    expect(solved.currentA("galvanometer")).toBeCloseTo(0, 14);
    expect(solved.potentialV("left")).toBeCloseTo(8, 12);
    expect(solved.currentA("battery")).toBeCloseTo(12 / 30 + 12 / 90, 12);
  });

  it("keeps a teraohm leak beside a tenth of an ohm: the floating string sits where the leaks put it", () => {
    // Hand: leaks 1 TΩ at the bottom and 3 TΩ at the top of 100 V; e = −100·(1/3)/(1 + 1/3) = −25 V.
    const solved = solveNetwork([
      { name: "low", from: "bottom", to: EARTH, kind: "resistor", ohms: 1e12 },
      { name: "source", from: "bottom", to: "middle", kind: "voltage-source", volts: 100, ohms: 0.1 },
      { name: "lead", from: "middle", to: "top", kind: "resistor", ohms: 0.1 },
      { name: "high", from: "top", to: EARTH, kind: "resistor", ohms: 3e12 },
    ]);
    expect(Math.abs(solved.potentialV("bottom") + 25)).toBeLessThan(1e-8);
  });

  it("meets the diode's own equation at the operating point", () => {
    const saturationA = 1e-9;
    const slopeV = 0.05;
    fc.assert(
      fc.property(decades(-1, 3), decades(0, 6), (volts, ohms) => {
        const solved = solveNetwork([
          { name: "source", from: EARTH, to: "anode", kind: "voltage-source", volts, ohms },
          { name: "diode", from: "anode", to: EARTH, kind: "diode", saturationA, slopeV },
        ]);
        const current = solved.currentA("diode");
        const law = saturationA * Math.expm1(solved.potentialV("anode") / slopeV);
        expect(Math.abs(current - law)).toBeLessThanOrEqual(1e-6 * Math.abs(law) + 1e-12);
        expectClose(current, (volts - solved.potentialV("anode")) / ohms, current);
      }),
    );
  });

  it("blocks in reverse: the diode passes its saturation current only", () => {
    const solved = solveNetwork([
      { name: "source", from: "anode", to: EARTH, kind: "voltage-source", volts: 100, ohms: 10 },
      { name: "diode", from: "anode", to: EARTH, kind: "diode", saturationA: 1e-6, slopeV: 0.05 },
    ]);
    expect(solved.currentA("diode")).toBeCloseTo(-1e-6, 10);
  });
});

describe("laws that hold in every linear network", () => {
  it("currents at a node sum to zero", () => {
    fc.assert(
      fc.property(linearNetwork, ({ nodes, branches }) => {
        const solved = solveNetwork(branches);
        for (let node = 1; node < nodes; node++) {
          let sum = 0;
          let largest = 0;
          for (const { name, from, to } of branches) {
            const current = solved.currentA(name);
            if (from === nodeName(node)) sum += current;
            if (to === nodeName(node)) sum -= current;
            if (from === nodeName(node) || to === nodeName(node))
              largest = Math.max(largest, Math.abs(current));
          }
          expectClose(sum, 0, largest);
        }
      }),
    );
  });

  it("superposition: the sources together give the sum of what each gives alone", () => {
    fc.assert(
      fc.property(linearNetwork, ({ nodes, branches }) => {
        const together = solveNetwork(branches);
        const alone = branches.flatMap((branch, index) =>
          branch.kind === "resistor"
            ? []
            : [solveNetwork(branches.map((other, k) => (k === index ? other : silenced(other))))],
        );
        for (let node = 1; node < nodes; node++) {
          const parts = alone.map((one) => one.potentialV(nodeName(node)));
          const scale = parts.reduce((largest, part) => Math.max(largest, Math.abs(part)), 0);
          expectClose(
            together.potentialV(nodeName(node)),
            parts.reduce((a, b) => a + b, 0),
            scale,
          );
        }
      }),
    );
  });

  it("reciprocity: current in at one node lifts another as much as the other way round", () => {
    const pair = fc.uniqueArray(fc.integer({ min: 1, max: 2 }), { minLength: 2, maxLength: 2 });
    fc.assert(
      fc.property(linearNetwork, pair, ({ branches }, [a, b]) => {
        const passive = branches.map(silenced);
        const lifted = (at: number, seen: number): number =>
          solveNetwork([
            ...passive,
            { name: "probe", from: EARTH, to: nodeName(at), kind: "current-source", amperes: 1 },
          ]).potentialV(nodeName(seen));
        const there = lifted(a!, b!);
        expectClose(there, lifted(b!, a!), Math.abs(there));
      }),
    );
  });

  it("the order in which branches are listed does not matter", () => {
    fc.assert(
      fc.property(linearNetwork, ({ nodes, branches }) => {
        const one = solveNetwork(branches);
        const other = solveNetwork(branches.toReversed());
        let scale = 0;
        for (let node = 1; node < nodes; node++)
          scale = Math.max(scale, Math.abs(one.potentialV(nodeName(node))));
        for (let node = 1; node < nodes; node++)
          expectClose(one.potentialV(nodeName(node)), other.potentialV(nodeName(node)), scale);
      }),
    );
  });
});

describe("a network that cannot be solved says why", () => {
  const source = (name: string, volts: number): Branch => ({
    name,
    from: EARTH,
    to: "bus",
    kind: "voltage-source",
    volts,
    ohms: 0,
  });

  it.each<[string, Branch[], string]>([
    ["two ideal sources on one bus", [source("one", 40), source("two", 41)], "CIRCUIT_SOURCES_CONFLICT"],
    ["a branch from a node to itself", [{ ...source("one", 1), from: "bus" }], "CIRCUIT_PLACE_UNKNOWN"],
    [
      "a negative resistance",
      [source("one", 1), { name: "r", from: "bus", to: EARTH, kind: "resistor", ohms: -5 }],
      "CIRCUIT_VALUE_OUT_OF_RANGE",
    ],
    ["a voltage that is not a number", [source("one", NaN)], "CIRCUIT_VALUE_OUT_OF_RANGE"],
  ])("%s", (_, branches, code) => {
    expect(() => solveNetwork(branches)).toThrow(CircuitError);
    expect(() => solveNetwork(branches)).toThrow(code);
  });

  it("a node or branch that is not there", () => {
    const solved = solveNetwork([source("one", 1)]);
    expect(() => solved.potentialV("elsewhere")).toThrow("CIRCUIT_PLACE_UNKNOWN");
    expect(() => solved.currentA("two")).toThrow("CIRCUIT_PLACE_UNKNOWN");
  });
});
