import fc from "fast-check";
import type { Amperes, Ohms, Ratio, Volts } from "../quantity/index.ts";
import type { Instrument, Reading, StringSpec, Terminal, Visit } from "./visit.ts";

/** Zero, a value on a logarithmic scale, or the largest that a visit file may write. */
function sized<Brand extends number>(
  leastPower: number,
  mostPower: number,
  most: number,
): fc.Arbitrary<Brand> {
  const powers = fc.double({ min: leastPower, max: mostPower, noNaN: true });
  return fc.oneof(
    { weight: 1, arbitrary: fc.constant(0) },
    { weight: 8, arbitrary: powers.map((power) => Math.min(most, 10 ** power)) },
    { weight: 1, arbitrary: fc.constant(most) },
  ) as unknown as fc.Arbitrary<Brand>;
}
const ratio = (most: number): fc.Arbitrary<Ratio> => sized<Ratio>(-4, -1, most);
const volts = sized<Volts>(-2, 3.5, 5000);

const moduleCount = fc.oneof(
  { weight: 2, arbitrary: fc.constantFrom(1, 2) },
  { weight: 1, arbitrary: fc.constant(200) },
  { weight: 7, arbitrary: fc.integer({ min: 3, max: 26 }) },
);

const stringSpecs: fc.Arbitrary<StringSpec[]> = fc
  .array(
    fc.record({
      modules: moduleCount,
      substrings: fc.constantFrom(undefined, undefined, 1, 2, 3, 24),
      moduleVoc: fc.constantFrom(undefined, 0.1, 41, 500),
      own: fc.constantFrom("none", "even", "some dark", "all dark"),
    }),
    { minLength: 1, maxLength: 3 },
  )
  .map((drawn) =>
    drawn.map(({ modules, substrings, moduleVoc, own }, order): StringSpec => {
      const each = Array.from({ length: modules }, (_, module) =>
        own === "all dark" || (own === "some dark" && module % 2 === 0) ? 0 : 40 + (module % 3),
      );
      return {
        id: `S${String(order + 1)}`,
        modules,
        ...(substrings === undefined ? {} : { substrings }),
        ...(moduleVoc === undefined ? {} : { moduleVoc: moduleVoc as Volts }),
        ...(own === "none" ? {} : { moduleVocs: each as Volts[] }),
      };
    }),
  );

const instruments: fc.Arbitrary<Instrument[]> = fc
  .record({
    inputResistance: fc.constantFrom(undefined, 1e3, 1e7, 1e12),
    inputTolerance: fc.option(ratio(0.5), { nil: undefined }),
    meterReading: fc.option(ratio(0.5), { nil: undefined }),
    meterFloor: fc.option(sized<Volts>(-3, 2, 100), { nil: undefined }),
    testerReading: fc.option(ratio(1), { nil: undefined }),
    testerFloor: fc.option(sized<Ohms>(0, 9, 1e9), { nil: undefined }),
    clampFloor: fc.option(sized<Amperes>(-6, 0, 10), { nil: undefined }),
    described: fc.boolean(),
  })
  .map((drawn): Instrument[] => {
    if (!drawn.described) return [];
    const { inputResistance, inputTolerance, meterReading, meterFloor, testerReading } = drawn;
    const { testerFloor, clampFloor } = drawn;
    return [
      {
        name: "meter",
        kind: "voltmeter",
        ...(inputResistance === undefined ? {} : { inputResistance: inputResistance as Ohms }),
        ...(inputTolerance === undefined ? {} : { inputTolerance }),
        accuracy: {
          ...(meterReading === undefined ? {} : { reading: meterReading }),
          ...(meterFloor === undefined ? {} : { floor: meterFloor }),
        },
      },
      {
        name: "tester",
        kind: "insulation-tester",
        accuracy: {
          ...(testerReading === undefined ? {} : { reading: testerReading }),
          ...(testerFloor === undefined ? {} : { floor: testerFloor }),
        },
      },
      {
        name: "clamp",
        kind: "leakage-clamp",
        accuracy: clampFloor === undefined ? {} : { reading: 0.02 as Ratio, floor: clampFloor },
      },
    ];
  });

const voltage = fc.record({
  terminals: fc.constantFrom(["+", "-"], ["+", "earth"], ["-", "earth"]),
  shunt: fc.option(sized<Ohms>(1, 9, 1e9), { nil: undefined }),
  value: volts,
});
const insulation = fc.record({
  from: fc.constantFrom("+", "-", "shorted"),
  testVoltage: fc.constantFrom(0, 250, 500, 1000, -500, 10_000, -10_000) as unknown as fc.Arbitrary<Volts>,
  value: sized<Ohms>(0, 13, 1e13),
});

const leakage = fc.record({
  from: fc.constantFrom("+" as const, "-" as const),
  shunt: fc.constantFrom(10, 100e3, 1e9) as unknown as fc.Arbitrary<Ohms>,
  value: sized<Amperes>(-7, 1, 100),
});

function readingOn(specs: readonly StringSpec[], paralleled: boolean): fc.Arbitrary<Reading> {
  const where = fc.record({
    string: fc.nat(specs.length - 1),
    circuit: paralleled ? fc.boolean() : fc.constant(false),
    cut: fc.boolean(),
    nodes: fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true })),
    isolated: fc.subarray(
      specs.map(({ id }) => id),
      { maxLength: specs.length - 1 },
    ),
  });
  return fc
    .tuple(where, fc.option(insulation, { freq: 3 }), voltage, fc.option(leakage, { freq: 4 }))
    .map(([{ string, circuit, cut, nodes, isolated }, tester, meter, clamp]): Reading => {
      const { id, modules } = specs[string]!;
      const low = Math.min(modules - 1, Math.floor(Math.min(...nodes) * modules));
      const high = Math.max(low + 1, Math.ceil(Math.max(...nodes) * modules));
      const on = circuit
        ? { on: "C1", ...(isolated.length > 0 ? { isolated } : {}) }
        : { on: id, ...(cut ? { segment: [low, high] as const } : {}) };
      if (circuit && clamp)
        return { ...on, on: id, circuit: "C1", kind: "leakage", with: "clamp", to: "earth", ...clamp };
      if (tester) return { ...on, kind: "insulation", with: "tester", to: "earth", ...tester };
      const { terminals, shunt, value } = meter;
      const known = shunt === undefined || shunt < 10 ? {} : { shunt };
      return { ...on, kind: "voltage", with: "meter", from: terminals[0], to: terminals[1], ...known, value };
    });
}

function earthAt(
  on: string,
  { pole, opened, through }: { pole: Terminal; opened: boolean; through: number | undefined },
): NonNullable<Visit["functionalEarth"]> {
  return { on, pole, opened, ...(through === undefined ? {} : { through: through as Ohms }) };
}

/**
 * Any visit that a file can write, however unlikely: readings that contradict each other, instruments without error,
 * all values zero or at their largest, one reading or none.
 */
export const anyVisit: fc.Arbitrary<Visit> = fc
  .tuple(stringSpecs, fc.boolean(), instruments)
  .chain(([strings, paralleled, bench]) =>
    fc
      .record({
        readings: fc.array(readingOn(strings, paralleled), { maxLength: 9 }),
        mismatch: fc.option(ratio(0.2), { nil: undefined }),
        drift: fc.option(ratio(0.5), { nil: undefined }),
        wet: fc.option(fc.boolean(), { nil: undefined }),
        earth: fc.option(
          fc.record({
            pole: fc.constantFrom("+" as const, "-" as const),
            opened: fc.boolean(),
            through: fc.constantFrom(undefined, 0, 100, 100e3),
          }),
          { freq: 4 },
        ),
        priors: fc.constantFrom(
          undefined,
          { connector: 0, inModule: 0, homeRun: 0, combiner: 1 },
          { connector: 1, inModule: 0, homeRun: 0, combiner: 0 },
          { connector: 0, inModule: 1, homeRun: 0, combiner: 0 },
          { connector: 1e6, inModule: 1, homeRun: 1e-6, combiner: 0 },
        ),
      })
      .map(
        ({ readings, mismatch, drift, wet, earth, priors }): Visit => ({
          strings,
          circuits: paralleled ? [{ id: "C1", strings: strings.map(({ id }) => id) }] : [],
          instruments: bench,
          conditions: {
            ...(mismatch === undefined ? {} : { mismatch }),
            ...(drift === undefined ? {} : { drift }),
            ...(wet === undefined ? {} : { wet }),
          },
          readings,
          ...(earth === null ? {} : { functionalEarth: earthAt(paralleled ? "C1" : "S1", earth) }),
          costs: {},
          ...(priors === undefined ? {} : { priors }),
        }),
      ),
  );
