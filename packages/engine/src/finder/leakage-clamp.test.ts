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

  test("a clamp that shows nothing on one string clears that string", () => {
    const finding = locate(visitOf(scenario, [...onCircuit, clamped("S1")]));
    const onS1 = finding.places.filter((place) => place.string === "S1");
    expect(onS1.reduce((sum, place) => sum + place.probability, 0)).toBeLessThan(1e-6);
  });
});
