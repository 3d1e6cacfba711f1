import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { leakFromPoles, litArrayBias, separatePolesInParallel } from "./insulation-test.ts";
import {
  hastySwingRatio,
  knownResistorMethod,
  knownResistorSpread,
  settlingTimeS,
  switchedPairMethod,
  voltmeterMethod,
} from "./r-iso.ts";
import {
  floatingCircuit,
  terminalPotentialV,
  testerReads,
  voltmeterReadsV,
  withTerminalLeak,
} from "./string.ts";

const decades = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((power) => 10 ** power);
const share = fc.double({ min: 0, max: 1, noNaN: true });
const openCircuitV = 800;
const circuitOf = (ohms: number, at: number) =>
  floatingCircuit(openCircuitV, [{ aboveNegativeV: at * openCircuitV, siemens: 1 / ohms }]);

describe("the voltmeter method", () => {
  it("gives back the leak and its place from what the closed form reads", () => {
    fc.assert(
      fc.property(decades(2, 7.5), share, (ohms, at) => {
        const circuit = circuitOf(ohms, at);
        const inputOhms = 1e7;
        const found = voltmeterMethod({
          openCircuitV,
          positiveV: voltmeterReadsV(circuit, { terminal: "+", inputOhms }),
          negativeV: voltmeterReadsV(circuit, { terminal: "-", inputOhms }),
          inputOhms,
          errorV: 1e-6,
        });
        if (found.outcome !== "measured") throw new Error(found.because);
        const { leakOhms, positiveOhms, negativeOhms } = found.insulation;
        expect(Math.abs(leakOhms / ohms - 1)).toBeLessThan(1e-7);
        expect(found.insulation.share).toBeCloseTo(at, 9);
        expect((1 / positiveOhms + 1 / negativeOhms) * ohms).toBeCloseTo(1, 6);
      }),
    );
  });

  it.each([
    ["a sum above the voltage by more than the error asks for a retake", 420, 400, "retake"],
    ["a sum above it by less counts as a hard fault", 401, 400, "measured"],
    ["a sum of a tenth of the voltage still places", 40, 40, "measured"],
    ["a sum just under a tenth places nothing", 39.9, 40, "no-hard-fault"],
    ["nothing at all places nothing", 0, 0, "no-hard-fault"],
  ])("%s", (_, positiveV, negativeV, outcome) => {
    const found = voltmeterMethod({ openCircuitV, positiveV, negativeV, inputOhms: 1e7, errorV: 2 });
    expect(found.outcome).toBe(outcome);
    if (found.outcome !== "retake") expect(found.insulation.leakOhms).toBeGreaterThanOrEqual(0);
  });
});

describe("the known resistor", () => {
  it("finds both figures, whichever leaks there are, with an ideal meter", () => {
    fc.assert(
      fc.property(
        decades(3, 7),
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        decades(3, 6),
        (ohms, at, resistorOhms) => {
          const circuit = circuitOf(ohms, at);
          const pole = at > 0.5 ? "-" : "+";
          const largerV = Math.abs(terminalPotentialV(circuit, pole));
          const loaded = withTerminalLeak(circuit, pole, 1 / resistorOhms);
          const largerWithResistorV = Math.abs(terminalPotentialV(loaded, pole));
          const found = knownResistorMethod({
            sourceV: openCircuitV,
            largerV,
            largerWithResistorV,
            resistorOhms,
          });
          expect(found.parallelOhms / ohms).toBeCloseTo(1, 6);
          // The weaker pole's own leak, by the division of one leak into two.
          const weaker = ohms / Math.max(at, 1 - at);
          expect(found.weakerPoleOhms / weaker).toBeCloseTo(1, 6);
        },
      ),
    );
  });

  it("spreads by √2 of the gain error when the resistor equals the leak, doubled", () => {
    expect(knownResistorSpread(0.005, 5e4, 5e4)).toBeCloseTo(0.005 * Math.SQRT2 * 2, 12);
  });

  it("refuses a resistor that raises the voltage", () => {
    expect(() =>
      knownResistorMethod({ sourceV: 600, largerV: 450, largerWithResistorV: 460, resistorOhms: 6e4 }),
    ).toThrow("CIRCUIT_VALUE_OUT_OF_RANGE");
  });
});

describe("the switched pair", () => {
  const statesOf = (
    ohms: number,
    at: number,
    resistorOhms: number,
    light: readonly [number, number] = [1, 1],
  ) => {
    const state = (pole: "+" | "-", factor: number) => {
      const loaded = withTerminalLeak(circuitOf(ohms, at), pole, 1 / resistorOhms);
      return {
        positiveV: factor * terminalPotentialV(loaded, "+"),
        negativeV: factor * terminalPotentialV(loaded, "-"),
      };
    };
    return { atPositive: state("+", light[0]), atNegative: state("-", light[1]) };
  };

  it("gives back the leak and its place although the light changed between the states", () => {
    fc.assert(
      fc.property(
        decades(2, 7),
        share,
        decades(4, 6),
        fc.double({ min: 0.7, max: 1.3, noNaN: true }),
        (ohms, at, r, light) => {
          const found = switchedPairMethod(r, statesOf(ohms, at, r, [1, light]));
          expect(found.leakOhms / ohms).toBeCloseTo(1, 4);
          expect(found.share).toBeCloseTo(at, 6);
        },
      ),
    );
  });

  it("swings by tanh(T/2τ) of the settled swing when switched in haste, stepped here in time", () => {
    const timeConstantS = 2;
    for (const halfPeriodS of [0.5, 2, 9]) {
      const decay = Math.exp(-halfPeriodS / timeConstantS);
      let level = 0;
      let swing = 0;
      for (let change = 0; change < 400; change++) {
        const target = change % 2 === 0 ? 1 : 0;
        const before = level;
        level = target + (level - target) * decay;
        swing = Math.abs(level - before);
      }
      expect(hastySwingRatio(halfPeriodS, timeConstantS)).toBeCloseTo(swing, 12);
    }
  });

  it("settles to 1 % in 4.605 time constants, and at once without capacitance", () => {
    expect(settlingTimeS(1e-6, 1e6)).toBeCloseTo(4.605, 3);
    expect(settlingTimeS(0, 1e6)).toBeCloseTo(0, 15);
    expect(() => settlingTimeS(-1, 1e6)).toThrow("CIRCUIT_VALUE_OUT_OF_RANGE");
  });
});

describe("an insulation tester on a lit array", () => {
  it("pole by pole gives back the leak and its place", () => {
    fc.assert(
      fc.property(decades(2, 7), share, fc.constantFrom(250, 500, -500, 1000), (ohms, at, testV) => {
        const circuit = circuitOf(ohms, at);
        const found = leakFromPoles({
          testV,
          atPositiveOhms: testerReads(circuit, { terminal: "+", testV }).ohms,
          atNegativeOhms: testerReads(circuit, { terminal: "-", testV }).ohms,
          openCircuitV,
        });
        expect(found.leakOhms / ohms).toBeCloseTo(1, 9);
        expect(found.share).toBeCloseTo(at, 8);
      }),
    );
  });

  it("one pole alone errs by testV / (testV − free)", () => {
    fc.assert(
      fc.property(decades(2, 7), share, fc.constantFrom(250, 1000), (ohms, at, testV) => {
        const circuit = circuitOf(ohms, at);
        const bias = litArrayBias(testV, terminalPotentialV(circuit, "-"));
        expect(testerReads(circuit, { terminal: "-", testV }).ohms / (ohms * bias)).toBeCloseTo(1, 9);
      }),
    );
  });

  it("readings that leave no leak are refused", () => {
    const test = { testV: 500, atPositiveOhms: 1e4, atNegativeOhms: 1e4, openCircuitV };
    expect(() => leakFromPoles(test)).toThrow("CIRCUIT_VALUE_OUT_OF_RANGE");
  });

  it("two separate leaks are in parallel", () => {
    expect(separatePolesInParallel(1e5, 3e5)).toBeCloseTo(75_000, 8);
  });
});
