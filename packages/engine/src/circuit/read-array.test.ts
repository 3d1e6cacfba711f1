import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type {
  ArrayDescription,
  ArrayFault,
  ArrayInstrument,
  ArrayString,
  Pole,
  Probe,
} from "./array-description.ts";
import { solveArray } from "./array-network.ts";
import { readArray } from "./read-array.ts";

const MODULES = 5;
const pole = fc.constantFrom<Pole>("+", "-");
const decades = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((power) => 10 ** power);

function arrayString(id: string, sourceOhms: number): fc.Arbitrary<ArrayString> {
  const module = fc.record({
    kind: fc.constant("linear" as const),
    openCircuitV: fc.double({ min: 38, max: 42, noNaN: true }),
    sourceOhms: fc.constant(sourceOhms),
  });
  return fc.record({
    id: fc.constant(id),
    modules: fc.array(module, { minLength: MODULES, maxLength: MODULES }),
    substrings: fc.constantFrom(1, 3),
    moduleLeaksS: fc.array(decades(-10, -6), { minLength: MODULES, maxLength: MODULES }),
    homeRunOhms: fc.constant({ positive: sourceOhms / 3, negative: sourceOhms / 5 }),
  });
}

const faults: fc.Arbitrary<ArrayFault[]> = fc.array(
  fc.record({
    place: fc.oneof(
      fc.integer({ min: 0, max: 3 * MODULES }).map((tap) => ({ string: "A", at: tap / 3 })),
      fc.record({ string: fc.constant("A"), homeRun: pole, along: fc.constantFrom(0.2, 0.5, 1) }),
    ),
    ohms: decades(1, 8),
    staysWith: fc.constantFrom("below" as const, "above" as const),
  }),
  { maxLength: 3 },
);

/** A meter at one terminal, a shunted one, one across, or a tester, between two probes. */
function instrumentBetween(negative: Probe, positive: Probe): fc.Arbitrary<ArrayInstrument> {
  const at = fc.constantFrom(negative, positive);
  return fc.oneof(
    fc.record({
      kind: fc.constant("voltmeter" as const),
      from: at,
      to: fc.constant("earth" as const),
      inputOhms: decades(5, 8),
      shuntOhms: decades(4, 6),
    }),
    fc.constant({ kind: "voltmeter" as const, from: positive, to: negative, inputOhms: 1e7 }),
    fc.record({
      kind: fc.constant("tester" as const),
      at,
      testV: fc.constantFrom(500, -500),
      seriesOhms: fc.constant(1e4),
    }),
  );
}

function expectSameReading(array: ArrayDescription, instrument: ArrayInstrument): void {
  const whole = solveArray(array, instrument).reading!;
  const reduced = readArray(array, instrument);
  const scale = instrument.kind === "tester" ? Math.abs(whole) : Math.max(Math.abs(whole), 1);
  expect(Math.abs(reduced - whole)).toBeLessThanOrEqual(1e-9 * scale);
}

describe("reading an array by its ladders gives what the whole network gives, to 1e-9", () => {
  it("on an isolated string, stiff or with source resistance", () => {
    const terminals = instrumentBetween({ string: "A", homeRun: "-" }, { string: "A", homeRun: "+" });
    const string = fc.constantFrom(0, 0.8).chain((sourceOhms) => arrayString("A", sourceOhms));
    fc.assert(
      fc.property(string, faults, terminals, (one, all, instrument) => {
        const isolated = { ...one, fuseOut: { positive: true, negative: true } };
        expectSameReading({ strings: [isolated], faults: all }, instrument);
      }),
    );
  });

  it("on a segment between two opened connectors, damage at a cut staying with one half", () => {
    const nodes = fc.uniqueArray(fc.integer({ min: 0, max: MODULES }), { minLength: 2, maxLength: 2 });
    const drawn = nodes.chain((unsorted) => {
      const [from, to] = unsorted.sort((a, b) => a - b) as [number, number];
      const low: Probe = { string: "A", at: from, side: "above" };
      const high: Probe = { string: "A", at: to, side: "below" };
      return fc.tuple(fc.constant([from, to]), instrumentBetween(low, high));
    });
    fc.assert(
      fc.property(arrayString("A", 0), faults, drawn, (one, all, [openNodes, instrument]) => {
        expectSameReading({ strings: [{ ...one, openNodes }], faults: all }, instrument);
      }),
    );
  });

  it("on unequal strings in parallel, one of them isolated, with bus faults, an earth resistor and a load", () => {
    const strings = fc.tuple(arrayString("A", 0.8), arrayString("B", 0.5), arrayString("C", 1.1));
    const bus = fc.record({ place: fc.record({ bus: pole }), ohms: decades(2, 7) });
    const instrument = instrumentBetween({ bus: "-" }, { bus: "+" });
    fc.assert(
      fc.property(
        strings,
        faults,
        bus,
        instrument,
        fc.boolean(),
        ([a, b, c], all, busFault, used, isolate) => {
          const array: ArrayDescription = {
            strings: [a, b, isolate ? { ...c, fuseOut: { positive: true, negative: true } } : c],
            faults: [...all, busFault],
            earthing: { pole: "-", ohms: 1e5 },
            loadOhms: 1e4,
          };
          expectSameReading(array, used);
        },
      ),
    );
  });
});
