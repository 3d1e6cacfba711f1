import { describe, expect, test } from "vitest";
import { drawTruth, linearModule, measure, seededRandom, visitOf } from "../simulate/index.ts";
import { locate } from "./locate.ts";

const scenario = {
  strings: ["S1", "S2", "S3", "S4"].map((id) => ({
    id,
    modules: 16,
    module: linearModule(41),
    moduleLeakOhms: 200e6,
  })),
  circuits: [{ id: "C1", strings: ["S1", "S2", "S3", "S4"] }],
  faults: [{ string: "S3", at: 5, ohms: 12e3 }],
  wet: false,
  mismatch: 0.005,
  drift: 0.004,
  meter: { inputOhms: 10e6, inputTolerance: 0.01, reading: 0.003, floorV: 0.1 },
  tester: { reading: 0.03, floorOhms: 2e3, seriesOhms: 10e3 },
};

describe("a leakage clamp on the strings of a joined circuit", () => {
  const random = seededRandom(3);
  const truth = drawTruth(scenario, random);
  const poles = [
    { from: "+", to: "-" },
    { from: "+", to: "earth" },
    { from: "-", to: "earth" },
    { from: "-", to: "earth", shunt: "100 kΩ" },
  ] as const;
  const onCircuit = poles.map((pole) => measure(truth, { with: "meter", on: "C1", ...pole }, random));
  const clamped = (id: string) =>
    measure(truth, { with: "clamp", on: id, circuit: "C1", from: "-", to: "earth", shunt: "100 kΩ" }, random);

  test("terminal readings alone cannot tell the strings apart", () => {
    const finding = locate(visitOf(scenario, onCircuit));
    const onString = (id: string): number =>
      finding.places
        .filter((place) => place.string === id)
        .reduce((sum, place) => sum + place.probability, 0);
    expect(Math.abs(onString("S1") - onString("S3"))).toBeLessThan(1e-9);
  });

  test("the damaged string carries the current and is named, without isolating any", () => {
    const finding = locate(visitOf(scenario, [...onCircuit, ...scenario.circuits[0]!.strings.map(clamped)]));
    expect(finding.places[0]).toMatchObject({ string: "S3", at: 5 });
    expect(finding.verdict).toBe("located");
  });

  test("with a clamp in the bag, clamping the suspects is planned before any string is isolated", () => {
    const visit = visitOf(scenario, onCircuit);
    const bag = [...visit.instruments, { name: "clamp", kind: "leakage-clamp" as const }];
    const [step] = locate({ ...visit, instruments: bag }).next;
    expect(step?.readings.map(({ with: name, on }) => `${name} ${on}`)).toEqual([
      "clamp S1",
      "clamp S2",
      "clamp S3",
      "clamp S4",
    ]);
  });

  test("healthy leakage that flows backwards, drawn by a hard fault near the other pole, is no second fault", () => {
    const leaky = scenario.strings.map((string) => ({ ...string, moduleLeakOhms: 10e6 }));
    const faults = [{ string: "S3", at: 14, ohms: 1e3 }];
    const high = drawTruth({ ...scenario, strings: leaky, faults }, random);
    const readings = [
      ...poles.map((pole) => measure(high, { with: "meter", on: "C1", ...pole }, random)),
      ...leaky.map(({ id }) =>
        measure(
          high,
          { with: "clamp", on: id, circuit: "C1", from: "-", to: "earth", shunt: "100 kΩ" },
          random,
        ),
      ),
    ];
    // A sound string's leakage sits at mid-string, 0.375 of 656 V below the fault: 16/10 MΩ there is 0.39 mA, four times the floor.
    expect(readings[4]!.value).toBeGreaterThan(0.2e-3);
    const finding = locate(visitOf(scenario, readings));
    expect(finding.verdict).toBe("located");
    expect(finding.places[0]).toMatchObject({ string: "S3", at: 14 });
  });

  test("damage of the combiner itself is told apart from a string's: every clamp then shows sound leakage only", () => {
    const bus = drawTruth({ ...scenario, faults: [{ circuit: "C1", pole: "+", ohms: 12e3 }] }, random);
    const readings = [
      ...poles.map((pole) => measure(bus, { with: "meter", on: "C1", ...pole }, random)),
      ...scenario.strings.map(({ id }) =>
        measure(
          bus,
          { with: "clamp", on: id, circuit: "C1", from: "-", to: "earth", shunt: "100 kΩ" },
          random,
        ),
      ),
    ];
    const finding = locate(visitOf(scenario, readings));
    expect(finding.places[0]).toMatchObject({ string: "C1", what: "combiner" });
    expect(finding.places[0]!.probability).toBeGreaterThan(0.9);
  });

  test("a clamp that shows nothing on one string clears that string", () => {
    const finding = locate(visitOf(scenario, [...onCircuit, clamped("S1")]));
    const onS1 = finding.places.filter((place) => place.string === "S1");
    expect(onS1.reduce((sum, place) => sum + place.probability, 0)).toBeLessThan(1e-6);
  });
});
