import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ArrayString } from "./array-description.ts";
import { solveArray } from "./array-network.ts";
import {
  floatingCircuit,
  parallelCircuit,
  potentialAt,
  segmentCircuit,
  segmentsBetween,
  stringCircuit,
  terminalPotentialV,
  testerReads,
  voltmeterReadsV,
  withTerminalLeak,
  type StringLeakage,
} from "./string.ts";

const equalModules = (modules: number, voc: number): number[] => Array.from({ length: modules }, () => voc);
const decades = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((power) => 10 ** power);

const anyString: fc.Arbitrary<StringLeakage> = fc.integer({ min: 2, max: 12 }).chain((modules) =>
  fc.record({
    moduleVocsV: fc.array(fc.double({ min: 30, max: 45, noNaN: true }), {
      minLength: modules,
      maxLength: modules,
    }),
    moduleLeaksS: fc.array(decades(-10, -7), { minLength: modules, maxLength: modules }),
    faults: fc.array(
      fc.record({
        at: fc.integer({ min: 0, max: 3 * modules }).map((tap) => tap / 3),
        ohms: decades(1, 7),
        staysWith: fc.constantFrom("below" as const, "above" as const),
      }),
      { maxLength: 3 },
    ),
  }),
);

describe("one floating string", () => {
  it("20 modules of 40 V, 10 kΩ at node 5, 10 MΩ meter: the divider of fault and meter, worked by hand", () => {
    const circuit = stringCircuit({
      moduleVocsV: equalModules(20, 40),
      moduleLeaksS: equalModules(20, 0),
      faults: [{ at: 5, ohms: 1e4 }],
    });
    const inputOhms = 1e7;
    // 200 V and 600 V stand behind 10 kΩ; the meter sees 10 MΩ / 10.01 MΩ of them.
    expect(voltmeterReadsV(circuit, { terminal: "-", inputOhms })).toBeCloseTo((-200 * 1e7) / 1.001e7, 10);
    expect(voltmeterReadsV(circuit, { terminal: "+", inputOhms })).toBeCloseTo((600 * 1e7) / 1.001e7, 10);
    expect(circuit.leakS).toBeCloseTo(1e-4, 16);
  });

  it("rises linearly inside a module", () => {
    expect(potentialAt([40, 50, 60], 0)).toBe(0);
    expect(potentialAt([40, 50, 60], 1.5)).toBe(65);
    expect(potentialAt([40, 50, 60], 3)).toBe(150);
    expect(() => potentialAt([40, 50, 60], 3.1)).toThrow("CIRCUIT_VALUE_OUT_OF_RANGE");
  });

  it("with no leak at all follows the meter to 0 V and has its centroid at half voltage", () => {
    const circuit = floatingCircuit(600, []);
    expect(circuit.centroidV).toBe(300);
    expect(voltmeterReadsV(circuit, { terminal: "+", inputOhms: 1e7 })).toBe(0);
  });

  it("missing volts and ratio give back the leak and its centroid, with any shunt", () => {
    fc.assert(
      fc.property(anyString, decades(4, 8), (string, shuntOhms) => {
        const circuit = stringCircuit(string);
        const meterS = 1 / 1e7 + 1 / shuntOhms;
        const low = -voltmeterReadsV(circuit, { terminal: "-", inputOhms: 1e7, shuntOhms });
        const high = voltmeterReadsV(circuit, { terminal: "+", inputOhms: 1e7, shuntOhms });
        const sum = low + high;
        expect((meterS * sum) / (circuit.openCircuitV - sum) / circuit.leakS).toBeCloseTo(1, 4);
        expect(low / sum).toBeCloseTo(circuit.centroidV / circuit.openCircuitV, 9);
      }),
    );
  });

  it("a terminal leak added in place gives what the meter formula gives", () => {
    fc.assert(
      fc.property(
        anyString,
        fc.constantFrom("+" as const, "-" as const),
        decades(4, 8),
        (string, terminal, inputOhms) => {
          const circuit = stringCircuit(string);
          const loaded = withTerminalLeak(circuit, terminal, 1 / inputOhms);
          expect(terminalPotentialV(loaded, terminal)).toBeCloseTo(
            voltmeterReadsV(circuit, { terminal, inputOhms }),
            8,
          );
        },
      ),
    );
  });

  it("two tester readings give the leak by their difference: I₋ − I₊ = G·V_oc", () => {
    fc.assert(
      fc.property(anyString, fc.constantFrom(250, 500, -1000), (string, testV) => {
        const circuit = stringCircuit(string);
        const high = testerReads(circuit, { terminal: "+", testV }).currentA;
        const low = testerReads(circuit, { terminal: "-", testV }).currentA;
        const expected = circuit.leakS * circuit.openCircuitV;
        expect((low - high) / expected).toBeCloseTo(1, 9);
        expect(testerReads(circuit, { terminal: "shorted", testV }).ohms * circuit.leakS).toBeCloseTo(1, 9);
      }),
    );
  });
});

describe("parts of strings", () => {
  it("opening connectors keeps all leakage: segment leaks and moments sum to the whole string's", () => {
    const cuts = fc.array(fc.integer({ min: 0, max: 2 }), { maxLength: 3 });
    fc.assert(
      fc.property(anyString, cuts, (string, opened) => {
        const modules = string.moduleVocsV.length;
        const inner = opened.filter((node) => node > 0 && node < modules);
        const segments = segmentsBetween(string, inner);
        const whole = stringCircuit(string);
        let leakS = 0;
        let moment = 0;
        for (const { from, circuit } of segments) {
          leakS += circuit.leakS;
          moment += circuit.leakS * (circuit.centroidV + potentialAt(string.moduleVocsV, from));
        }
        expect(leakS / whole.leakS).toBeCloseTo(1, 9);
        expect(moment / (whole.leakS * whole.openCircuitV)).toBeCloseTo(
          whole.centroidV / whole.openCircuitV,
          9,
        );
      }),
    );
  });

  it("damage at an opened junction stays with the half it is told to", () => {
    const base = { moduleVocsV: equalModules(4, 40), moduleLeaksS: equalModules(4, 0) };
    const kept = (staysWith: "below" | "above") => {
      const string = { ...base, faults: [{ at: 2, ohms: 1000, staysWith }] };
      return segmentsBetween(string, [2]).map(({ circuit }) => circuit.leakS);
    };
    expect(kept("below")).toEqual([0.001, 0]);
    expect(kept("above")).toEqual([0, 0.001]);
  });

  it("an opened end can lose its damage to the home run; a closed end cannot", () => {
    const string: StringLeakage = {
      moduleVocsV: equalModules(4, 40),
      moduleLeaksS: equalModules(4, 0),
      faults: [{ at: 0, ohms: 1000, staysWith: "below" }],
    };
    expect(stringCircuit(string).leakS).toBe(0.001);
    expect(segmentsBetween(string, [2])[0]!.circuit.leakS).toBe(0.001);
    expect(segmentCircuit(string, 0, 2).leakS).toBe(0);
  });

  it.each([
    [0, 0],
    [3, 2],
    [0, 1.5],
    [-1, 2],
    [0, 5],
  ])("segment %d to %d of four modules is refused", (from, to) => {
    const string = { moduleVocsV: equalModules(4, 40), moduleLeaksS: [], faults: [] };
    expect(() => segmentCircuit(string, from, to)).toThrow("CIRCUIT_PLACE_UNKNOWN");
  });

  it("strings in parallel add their leaks in any order, and taking one off takes its terms", () => {
    const circuits = fc.array(anyString.map(stringCircuit), { minLength: 2, maxLength: 5 });
    fc.assert(
      fc.property(circuits, (drawn) => {
        // Strings that may be joined: equal voltage.
        const strings = drawn.map(({ leakS, centroidV, openCircuitV }) => ({
          openCircuitV: 600,
          leakS,
          centroidV: (600 * centroidV) / openCircuitV,
        }));
        const joined = parallelCircuit(strings);
        const reversed = parallelCircuit(strings.toReversed());
        expect(reversed.leakS).toBeCloseTo(joined.leakS, 12);
        expect(reversed.centroidV).toBeCloseTo(joined.centroidV, 8);
        const rest = parallelCircuit(strings.slice(1));
        expect(joined.leakS - rest.leakS).toBeCloseTo(strings[0]!.leakS, 12);
      }),
    );
    expect(() => parallelCircuit([])).toThrow("CIRCUIT_PLACE_UNKNOWN");
  });
});

describe("the closed forms equal the whole network of stiff sources, to 1e-9", () => {
  it("for a meter with shunt at either pole, and for a tester", () => {
    const pole = fc.constantFrom("+" as const, "-" as const);
    fc.assert(
      fc.property(anyString, pole, decades(4, 7), (string, terminal, shuntOhms) => {
        const wired: ArrayString = {
          id: "S",
          modules: string.moduleVocsV.map((openCircuitV) => ({
            kind: "linear",
            openCircuitV,
            sourceOhms: 0,
          })),
          moduleLeaksS: string.moduleLeaksS,
          fuseOut: { positive: true, negative: true },
        };
        const faults = string.faults.map(({ at, ohms }) => ({ place: { string: "S", at }, ohms }));
        const array = { strings: [wired], faults };
        const probe = { string: "S", homeRun: terminal };
        const circuit = stringCircuit(string);

        const meter = {
          kind: "voltmeter" as const,
          from: probe,
          to: "earth" as const,
          inputOhms: 1e7,
          shuntOhms,
        };
        const read = solveArray(array, meter).reading!;
        const expected = voltmeterReadsV(circuit, { terminal, inputOhms: 1e7, shuntOhms });
        expect(Math.abs(read - expected)).toBeLessThanOrEqual(1e-9 * circuit.openCircuitV);

        const tester = { kind: "tester" as const, at: probe, testV: 500, seriesOhms: 1e4 };
        const tested = 1 / (solveArray(array, tester).reading! + 1e4);
        const { ohms } = testerReads(circuit, { terminal, testV: 500, seriesOhms: 1e4 });
        expect(Math.abs(tested - 1 / (ohms + 1e4))).toBeLessThanOrEqual(1e-9 / 1e4);
      }),
    );
  });
});
