import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Ratio, Volts } from "../quantity/index.ts";
import { firstRequests, paralleled, seededRandom } from "../simulate/index.ts";
import { anyVisit } from "./drawn-visit.fixture.ts";
import type { Finding } from "./finding.ts";
import { benchOf } from "./instruments.ts";
import { locate } from "./locate.ts";
import { posteriorOf } from "./posterior.ts";
import { problemOf } from "./problem.ts";
import { exactVisit, noisyVisit, stringWith } from "./simulated-visit.fixture.ts";
import type { Reading, Visit } from "./visit.ts";

/** Visits with readings that belong together, from bolted faults to sound strings, some opened once. */
const honestVisit: fc.Arbitrary<Visit> = fc
  .record({
    seed: fc.nat(1e6),
    at: fc.integer({ min: 0, max: 60 }),
    power: fc.double({ min: 1, max: 6.2, noNaN: true }),
    opened: fc.option(fc.integer({ min: 1, max: 19 })),
    tester: fc.boolean(),
  })
  .map(({ seed, at, power, opened, tester }) => {
    const cut =
      opened === null
        ? []
        : (
            [
              [0, opened],
              [opened, 20],
            ] as const
          ).flatMap((segment) => firstRequests("S1").map((request) => ({ ...request, segment })));
    const test = { with: "tester", on: "S1", from: "-", to: "earth", testVoltage: "1000 V" } as const;
    const requests = [...firstRequests("S1"), ...cut, ...(tester ? [test] : [])];
    return noisyVisit(
      stringWith([{ string: "S1", at: at / 3, ohms: 10 ** power }]),
      seededRandom(seed),
      requests,
    );
  });
const honestCircuit: fc.Arbitrary<Visit> = fc.nat(1e6).map((seed) => {
  const random = seededRandom(seed);
  const drawn = paralleled(random, [100, 1e6]);
  const [first] = drawn.scenario.strings;
  return noisyVisit(drawn.scenario, random, [...firstRequests("C1"), ...firstRequests(first!.id)]);
});
const RUNS = { numRuns: 20 };
/** Dozens of findings on a busy machine; no figure of speed is meant. */
const PATIENCE_MS = 120_000;

const placesOf = (finding: Finding): ReadonlyMap<string, number> =>
  new Map(
    finding.places.map(({ string, at, what, probability }) => [
      `${string} ${what} ${at.toFixed(6)}`,
      probability,
    ]),
  );

/** The same places with the same probabilities, to the accuracy of sums in another order. */
function expectSame(a: ReadonlyMap<string, number>, b: ReadonlyMap<string, number>, tolerance: number): void {
  for (const key of new Set([...a.keys(), ...b.keys()]))
    expect(Math.abs((a.get(key) ?? 0.001) - (b.get(key) ?? 0.001))).toBeLessThan(tolerance);
}

describe("probabilities", { timeout: PATIENCE_MS }, () => {
  it("of the hypotheses, and of the places given one fault, sum to 1", () => {
    fc.assert(
      fc.property(fc.oneof(honestVisit, honestCircuit), (visit) => {
        const { hypotheses, places } = posteriorOf(problemOf(visit, benchOf(visit)));
        expect(Object.values(hypotheses).reduce((sum, value) => sum + value, 0)).toBeCloseTo(1, 9);
        expect(places.reduce((sum, value) => sum + value, 0)).toBeCloseTo(1, 9);
      }),
      RUNS,
    );
  });

  it("of the places named sum, with the unnamed ones, to the probability of a fault", () => {
    fc.assert(
      fc.property(honestVisit, (visit) => {
        const { places, hypotheses } = locate(visit);
        const fault = hypotheses.reduce(
          (sum, { faults, probability }) => sum + (faults > 0 ? probability : 0),
          0,
        );
        const named = places.reduce((sum, { probability }) => sum + probability, 0);
        expect(named).toBeLessThan(fault + 1e-9);
        expect(named).toBeGreaterThan(fault - 61 * 0.001);
      }),
      RUNS,
    );
  });
});

describe("what must not matter", { timeout: PATIENCE_MS }, () => {
  it("the order of the readings", () => {
    const shuffled = honestVisit.chain((visit) =>
      fc.tuple(
        fc.constant(visit),
        fc.shuffledSubarray([...visit.readings], { minLength: visit.readings.length }),
      ),
    );
    fc.assert(
      fc.property(shuffled, ([visit, readings]) => {
        const [given, other] = [locate(visit), locate({ ...visit, readings })];
        expect(placesOf(other)).toEqual(placesOf(given));
        expect(other.verdict).toBe(given.verdict);
      }),
      RUNS,
    );
  });

  it("the order of the strings", () => {
    fc.assert(
      fc.property(honestCircuit, (visit) => {
        const turned = {
          ...visit,
          strings: visit.strings.toReversed(),
          circuits: visit.circuits.map(({ id, strings }) => ({ id, strings: strings.toReversed() })),
        };
        const [given, other] = [locate(visit), locate(turned)];
        expect(other.verdict).toBe(given.verdict);
        expectSame(placesOf(given), placesOf(other), 1e-6);
      }),
      { numRuns: 10 },
    );
  });

  it("the scale of all voltages", () => {
    const scaledBy = (visit: Visit, factor: number): Visit => ({
      ...visit,
      strings: visit.strings.map((spec) => ({ ...spec, moduleVoc: (spec.moduleVoc! * factor) as Volts })),
      instruments: visit.instruments.map((instrument) =>
        instrument.kind === "voltmeter"
          ? { ...instrument, accuracy: { ...instrument.accuracy, floor: (0.1 * factor) as Volts } }
          : instrument,
      ),
      readings: visit.readings.map((reading): Reading => {
        if (reading.kind === "voltage") return { ...reading, value: (reading.value * factor) as Volts };
        if (reading.kind === "insulation")
          return { ...reading, testVoltage: (reading.testVoltage * factor) as Volts };
        return reading;
      }),
    });
    fc.assert(
      fc.property(honestVisit, fc.double({ min: 0.2, max: 3, noNaN: true }), (visit, factor) => {
        const [given, other] = [locate(visit), locate(scaledBy(visit, factor))];
        expect(other.verdict).toBe(given.verdict);
        expectSame(placesOf(given), placesOf(other), 1e-6);
      }),
      RUNS,
    );
  });

  it("which end is called negative: poles swapped on the string turned round", () => {
    const turned = (visit: Visit): Visit => ({
      ...visit,
      readings: visit.readings.map((reading): Reading => {
        if (reading.kind === "leakage" || (reading.kind === "voltage" && reading.to !== "earth"))
          return reading.segment ? turnSegment(reading) : reading;
        const from = reading.from === "+" ? "-" : reading.from === "-" ? "+" : reading.from;
        const whole = { ...reading, from } as Reading;
        const sided =
          whole.kind === "insulation" ? { ...whole, testVoltage: (-1 * whole.testVoltage) as Volts } : whole;
        return sided.segment ? turnSegment(sided) : sided;
      }),
    });
    const turnSegment = (reading: Reading): Reading => ({
      ...reading,
      segment: [20 - reading.segment![1], 20 - reading.segment![0]] as const,
    });
    fc.assert(
      fc.property(honestVisit, (visit) => {
        const [given, other] = [locate(visit), locate(turned(visit))];
        const mirrored = new Map(
          other.places.map(({ string, at, what, probability }) => [
            `${string} ${what} ${(20 - at).toFixed(6)}`,
            probability,
          ]),
        );
        expect(other.verdict).toBe(given.verdict);
        // Nodes are laid and merged from one end, so that the mirrored sum differs in what the quadrature leaves (docs/finder.md).
        expectSame(placesOf(given), mirrored, 1e-4);
      }),
      RUNS,
    );
  });
});

describe("more readings", { timeout: PATIENCE_MS }, () => {
  it("of the same kind do not widen the credible set on average", () => {
    const random = seededRandom(99);
    let before = 0;
    let after = 0;
    for (let i = 0; i < 40; i++) {
      const at = Math.floor(61 * random.uniform()) / 3;
      // Under unsteady light and with a fault so hard that healthy leakage is not what blurs the place.
      const scenario = {
        ...stringWith([{ string: "S1", at, ohms: 1e3 * 50 ** random.uniform() }]),
        drift: 0.02,
      };
      // One truth read twice over; first with one round of readings, then with both.
      const twice = noisyVisit(scenario, random, [...firstRequests("S1"), ...firstRequests("S1")]);
      before += locate({ ...twice, readings: twice.readings.slice(0, 5) }).credible.places.length;
      after += locate(twice).credible.places.length;
    }
    expect(after).toBeLessThan(before);
  });

  it("with a better meter do not widen it on average either", () => {
    const random = seededRandom(98);
    let coarse = 0;
    let fine = 0;
    for (let i = 0; i < 40; i++) {
      const at = Math.floor(61 * random.uniform()) / 3;
      const scenario = stringWith([{ string: "S1", at, ohms: 20e3 * 50 ** random.uniform() }]);
      const draw = seededRandom(i);
      const poor = {
        ...scenario,
        drift: 0.02 as Ratio,
        meter: { ...scenario.meter, reading: 0.01, floorV: 0.5 },
      };
      coarse += locate(noisyVisit(poor, draw)).credible.places.length;
      fine += locate(noisyVisit(scenario, seededRandom(i))).credible.places.length;
    }
    expect(fine).toBeLessThan(coarse);
  });
});

/** Path of the first number in a finding that is not one. */
function notANumber(value: unknown, path = "finding"): string | null {
  if (typeof value === "number") return Number.isFinite(value) ? null : path;
  if (typeof value !== "object" || value === null) return null;
  for (const [key, inner] of Object.entries(value)) {
    const found = notANumber(inner, `${path}.${key}`);
    if (found !== null) return found;
  }
  return null;
}

describe("any visit that a file can write", { timeout: PATIENCE_MS }, () => {
  it("gives a finding: no throw, no NaN, no infinity, probabilities within their bounds, a reason", () => {
    fc.assert(
      fc.property(anyVisit, (visit) => {
        const finding = locate(visit);
        expect(notANumber(finding)).toBeNull();
        expect(finding.because).not.toBe("");
        expect(finding.hypotheses.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 9);
        for (const { probability } of finding.places) {
          expect(probability).toBeGreaterThan(0);
          expect(probability).toBeLessThanOrEqual(1 + 1e-12);
        }
        for (const { ohms, low, high } of finding.insulation) {
          expect(low).toBeLessThanOrEqual(ohms);
          expect(ohms).toBeLessThanOrEqual(high);
        }
      }),
      { numRuns: 40 },
    );
  });

  it.each([
    ["all readings zero", 0],
    ["all readings as large as a file may write", 5000],
  ])("gives a finding with %s", (_, value) => {
    const visit = noisyVisit(stringWith([]), seededRandom(1));
    const readings = visit.readings.map((reading) => ({ ...reading, value: value as Volts }) as Reading);
    const finding = locate({ ...visit, readings });
    expect(notANumber(finding)).toBeNull();
    expect(["located", "narrowed", "no-fault"]).not.toContain(finding.verdict);
  });

  it.each([
    ["one module", 1],
    ["two hundred modules", 200],
  ])("gives a finding on a string of %s", (_, modules) => {
    const scenario = stringWith([{ string: "S1", at: modules, ohms: 1e3 }]);
    const strings = [{ ...scenario.strings[0]!, modules }];
    const finding = locate(noisyVisit({ ...scenario, strings }, seededRandom(2)));
    expect(notANumber(finding)).toBeNull();
    expect(finding.places[0]).toMatchObject({ at: modules, what: "home-run" });
  });

  it("gives a finding with the tester alone, and says that the voltage is guessed", () => {
    const visit = exactVisit(stringWith([{ string: "S1", at: 3, ohms: 50e3 }], Infinity), [
      { with: "tester", on: "S1", from: "shorted", to: "earth", testVoltage: "500 V" },
    ]);
    const finding = locate(visit);
    expect(notANumber(finding)).toBeNull();
    expect(finding.warnings.join()).toContain("no + to − reading");
    // Poles shorted together give the insulation without a place.
    expect(finding.credible.places.length).toBeGreaterThan(20);
    expect(finding.insulation[0]!.low).toBeLessThan(50e3);
    expect(finding.insulation[0]!.high).toBeGreaterThan(50e3);
  });
});
