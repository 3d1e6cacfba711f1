import {
  drawScenario,
  drawTruth,
  firstRequests,
  type Instrument,
  measure,
  type Reading,
  seededRandom,
  SIMULATED_KINDS,
  type SimulatedKind,
  type StringSpec,
  type Visit,
  visitOf,
} from "@earthbell/engine";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { VISIT_YAML } from "../fixtures/visit-file.ts";
import { readVisit } from "./read-visit.ts";
import { visitText } from "./visit-text.ts";

function reread(visit: Visit): Visit {
  const text = visitText(visit, ["simulated"]);
  const read = readVisit(text, "visit.yaml");
  if (!read.ok) throw new Error(`${JSON.stringify(read.faults)}\n${text}`);
  return read.record;
}

/** A number between two, on a logarithmic scale, to all its digits or rounded as a person writes it. */
const sized = (least: number, most: number) =>
  fc
    .tuple(fc.double({ min: Math.log(least), max: Math.log(most), noNaN: true }), fc.constantFrom(3, 17))
    .map(([ln, digits]) => Math.min(most, Math.max(least, Number(Math.exp(ln).toPrecision(digits)))));
/** Every field that may be left out is there in half of the draws. */
const maybe = (fields: Record<string, fc.Arbitrary<unknown>>) => fc.record(fields, { requiredKeys: [] });
const pole = fc.constantFrom("+", "-");
// A map of numbers would not keep the order of its keys.
const name = fc
  .string({ unit: "grapheme-composite", minLength: 1, maxLength: 12 })
  .map((text) => text.replace(/[\p{C}\p{Z}]/gu, "·").slice(0, 12))
  .filter((text) => /^[^\p{C}]+$/u.test(text) && !/^\d+$/u.test(text) && text !== "__proto__");
const names = (count: { minLength: number; maxLength: number }) =>
  fc.uniqueArray(fc.oneof(name, fc.constantFrom("true", "null", "1.5", "a: b", "x # y", "~", "[q]")), count);

const instrument = (called: string): fc.Arbitrary<Instrument> =>
  fc.oneof(
    ...(
      [
        ["voltmeter", 100],
        ["insulation-tester", 1e9],
        ["insulation-monitor", 1e9],
        ["leakage-clamp", 1],
      ] as const
    ).map(([kind, most]) =>
      maybe({
        accuracy: maybe({ reading: sized(1e-4, 0.5), floor: sized(1e-5, most) }),
        ...(kind === "voltmeter"
          ? { inputResistance: sized(1e3, 1e12), inputTolerance: sized(1e-4, 0.5) }
          : {}),
      }).map((figures) => ({ name: called, kind, ...figures })),
    ),
  );

const stringSpec = (id: string): fc.Arbitrary<StringSpec> =>
  fc.integer({ min: 2, max: 12 }).chain((modules) =>
    maybe({
      substrings: fc.integer({ min: 1, max: 24 }),
      moduleVoc: sized(0.1, 500),
      moduleVocs: fc.array(sized(0.1, 500), { minLength: modules, maxLength: modules }),
      homeRuns: maybe({ positive: sized(0.1, 2e4), negative: sized(0.1, 2e4) }),
    }).map((fields) => ({ id, modules, ...fields })),
  );

type Wiring = Pick<Visit, "strings" | "circuits" | "instruments">;

/** One reading with an instrument, as its kind can be taken; where the visit describes none, as any kind. */
function reading(
  { strings, circuits }: Wiring,
  by: Pick<Instrument, "name" | "kind">,
): fc.Arbitrary<Reading> {
  const [circuit] = circuits;
  const ofString = fc
    .tuple(fc.constantFrom(...strings), fc.boolean())
    .map(([{ id, modules }, cut]) => (cut ? { on: id, segment: [1, modules] as const } : { on: id }));
  const ofCircuit =
    circuit === undefined
      ? []
      : [fc.constant({ on: circuit.id }), fc.constant({ on: circuit.id, isolated: [circuit.strings[0]!] })];
  const where = fc.oneof(ofString, ...ofCircuit);
  const base = { with: by.name };
  if (by.kind === "leakage-clamp")
    return fc.tuple(fc.constantFrom(...circuit!.strings), pole, sized(10, 1e9), sized(1e-6, 100)).map(
      ([on, from, shunt, value]) =>
        ({
          ...base,
          kind: "leakage",
          on,
          circuit: circuit!.id,
          from,
          to: "earth",
          shunt,
          value,
        }) as Reading,
    );
  if (by.kind === "voltmeter")
    return fc.tuple(where, pole, fc.boolean(), maybe({ shunt: sized(10, 1e9) }), sized(1e-3, 5000)).map(
      ([at, from, across, shunt, value]) =>
        ({
          ...base,
          kind: "voltage",
          ...at,
          from,
          to: across ? (from === "+" ? "-" : "+") : "earth",
          ...shunt,
          value,
        }) as Reading,
    );
  const from =
    by.kind === "insulation-monitor" ? fc.constant("shorted") : fc.oneof(pole, fc.constant("shorted"));
  return fc
    .tuple(where, from, sized(1, 1e4), sized(1, 1e13))
    .map(
      ([at, terminal, testVoltage, value]) =>
        ({ ...base, kind: "insulation", ...at, from: terminal, to: "earth", testVoltage, value }) as Reading,
    );
}

const visits: fc.Arbitrary<Visit> = fc
  .tuple(names({ minLength: 4, maxLength: 6 }), names({ minLength: 0, maxLength: 4 }), fc.boolean())
  .chain(([[circuit, ...ids], instrumentNames, joined]) =>
    fc
      .record({
        strings: fc.tuple(...ids.map(stringSpec)),
        circuits: fc.constant(joined ? [{ id: circuit!, strings: ids.slice(0, 3) }] : []),
        instruments: fc.tuple(...instrumentNames.map(instrument)),
      })
      .chain((wiring) => {
        const usable = wiring.instruments.filter(({ kind }) => joined || kind !== "leakage-clamp");
        const bag: readonly Pick<Instrument, "name" | "kind">[] =
          wiring.instruments.length > 0 ? usable : [{ name: "meter", kind: "voltmeter" }];
        const taken =
          bag.length === 0
            ? fc.constant([])
            : fc.array(fc.oneof(...bag.map((by) => reading(wiring as Wiring, by))), { maxLength: 8 });
        const minutes = sized(1 / 60, 43_200);
        return fc
          .tuple(
            taken,
            maybe({
              mismatch: sized(1e-4, 0.2),
              drift: sized(1e-4, 0.5),
              wet: fc.boolean(),
              underLoad: fc.boolean(),
            }),
            maybe({ openConnector: minutes, isolateString: minutes, reading: minutes, waitDry: minutes }),
            maybe({
              functionalEarth: fc
                .tuple(fc.constantFrom(...ids), pole, fc.boolean(), maybe({ through: sized(1e-3, 1e9) }))
                .map(([on, at, opened, through]) => ({ on, pole: at, ...through, opened })),
              priors: fc.record({
                connector: sized(1e-6, 1e6),
                inModule: sized(1e-6, 1e6),
                homeRun: fc.constant(0),
                combiner: sized(1e-6, 1e6),
              }),
              recorded: fc.array(name, { maxLength: 3 }),
            }),
          )
          .map(([readings, conditions, costs, rest]) => ({
            ...wiring,
            readings,
            conditions,
            costs,
            ...rest,
          }));
      }),
  );

describe("a visit written as text", () => {
  test("reads back as the same visit, whatever optional fields it has and however its parts are named", () => {
    fc.assert(
      fc.property(visits, (visit) => {
        expect(reread(visit)).toEqual(visit);
      }),
      { numRuns: 400 },
    );
  });

  test("loses nothing of a visit in every kind of field", () => {
    const read = readVisit(VISIT_YAML, "skerry-visit.yaml");
    if (!read.ok) throw new Error(JSON.stringify(read.faults));
    expect(reread(read.record)).toEqual(read.record);
  });

  test.each(Object.keys(SIMULATED_KINDS) as SimulatedKind[])("%s, simulated: the same visit", (kind) => {
    const random = seededRandom(11);
    const drawn = drawScenario(kind, random);
    const truth = drawTruth(drawn.scenario, random);
    const taken = firstRequests(drawn.on).map((request) => measure(truth, request, random));
    const visit = visitOf(drawn.scenario, taken);
    expect(reread(visit)).toEqual(visit);
  });

  test("lists an instrument that a reading names and nobody described, where others are described", () => {
    const read = readVisit(VISIT_YAML, "skerry-visit.yaml");
    if (!read.ok) throw new Error(JSON.stringify(read.faults));
    const { record } = read;
    const borrowed = { ...record, readings: [{ ...record.readings[0]!, with: "borrowed" }] };
    expect(reread(borrowed).instruments).toEqual([
      ...record.instruments,
      { name: "borrowed", kind: "voltmeter" },
    ]);
  });

  test("keeps to the words and units a person would use", () => {
    const read = readVisit(VISIT_YAML, "skerry-visit.yaml");
    if (!read.ok) throw new Error(JSON.stringify(read.faults));
    const text = visitText(read.record);
    expect(text).toContain("  - {with: meter, on: S1, from: -, to: earth, shunt: 100 kΩ, value: 150.3 V}");
    expect(text).toContain(
      "costs: {openConnector: 14 min, isolateString: 4 min, reading: 1 min, waitDry: 4 h}",
    );
    expect(text).toContain("recorded: [zero current proven at the combiner]");
  });
});
