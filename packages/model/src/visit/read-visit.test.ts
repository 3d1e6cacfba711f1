import { describe, expect, test } from "vitest";
import { VISIT_YAML } from "../fixtures/visit-file.ts";
import { malformed } from "../fixtures/malformed.ts";
import { MALFORMED_VISITS } from "../fixtures/malformed-visit.ts";
import { readVisit } from "./read-visit.ts";

describe("readVisit", () => {
  test.each(MALFORMED_VISITS)("points at $title with $code", (row) => {
    const { text, code, line, column, field, says = "" } = malformed(VISIT_YAML, row);
    const result = readVisit(text, "skerry-visit.yaml");
    if (result.ok) throw new Error("It was read without a fault");
    const [fault, ...again] = result.faults.filter((found) => found.field === field);
    expect(again).toEqual([]);
    expect(fault, JSON.stringify(result.faults)).toMatchObject({
      code,
      file: "skerry-visit.yaml",
      line,
      column,
    });
    expect(`${fault!.message} ${fault!.allowed}`).toContain(says);
  });

  test("reads a visit with every kind of field into base units", () => {
    const result = readVisit(VISIT_YAML, "skerry-visit.yaml");
    if (!result.ok) throw new Error(JSON.stringify(result.faults));
    const { record } = result;
    expect(record.strings[1]).toEqual({ id: "S2", modules: 3, moduleVocs: [40.1, 40.2, 39.9] });
    expect(record.instruments).toEqual([
      {
        name: "meter",
        kind: "voltmeter",
        inputResistance: 1e7,
        inputTolerance: 0.01,
        accuracy: { reading: 0.005, floor: 0.2 },
      },
      { name: "tester", kind: "insulation-tester", accuracy: { reading: 0.04, floor: 5000 } },
      { name: "inverter", kind: "insulation-monitor", accuracy: { reading: 0.15 } },
      { name: "clamp", kind: "leakage-clamp", accuracy: { reading: 0.02, floor: 0.0001 } },
    ]);
    expect(record.readings).toEqual([
      { kind: "voltage", with: "meter", on: "S1", from: "+", to: "-", value: 642.8 },
      { kind: "voltage", with: "meter", on: "S1", from: "-", to: "earth", value: 161.2 },
      { kind: "voltage", with: "meter", on: "S1", from: "+", to: "earth", value: 480.4 },
      { kind: "voltage", with: "meter", on: "S1", from: "-", to: "earth", shunt: 100_000, value: 150.3 },
      { kind: "voltage", with: "meter", on: "S1", segment: [0, 9], from: "-", to: "earth", value: 0.8 },
      {
        kind: "insulation",
        with: "tester",
        on: "S1",
        from: "+",
        to: "earth",
        testVoltage: -500,
        value: 31_000,
      },
      {
        kind: "insulation",
        with: "tester",
        on: "S1",
        from: "shorted",
        to: "earth",
        testVoltage: 500,
        value: 30_500,
      },
      { kind: "voltage", with: "meter", on: "C1", isolated: ["S2"], from: "-", to: "earth", value: 160.9 },
      // A monitor sees the terminals together, where its own test voltage has no part.
      {
        kind: "insulation",
        with: "inverter",
        on: "C1",
        from: "shorted",
        to: "earth",
        testVoltage: 1,
        value: 29_000,
      },
      {
        kind: "leakage",
        with: "clamp",
        on: "S2",
        circuit: "C1",
        from: "-",
        to: "earth",
        shunt: 100_000,
        value: 0.0014,
      },
    ]);
    expect(record.costs).toEqual({ openConnector: 14, isolateString: 4, reading: 1, waitDry: 240 });
    expect(record.recorded).toEqual(["zero current proven at the combiner"]);
  });

  test("leaves instruments to the stated defaults when the file describes none", () => {
    const result = readVisit(
      `format: earthbell.visit/1
strings: [{id: S1, modules: 10}]
readings:
  - {with: any meter, on: S1, from: +, to: earth, value: 12 V}
  - {on: S1, from: -, to: earth, value: 12 V}
  - {on: S1, from: -, to: earth, testVoltage: 500 V, value: 1 MΩ}
`,
      "visit.yaml",
    );
    if (!result.ok) throw new Error(JSON.stringify(result.faults));
    expect(result.record.instruments).toEqual([]);
    expect(result.record.readings.map((reading) => reading.with)).toEqual(["any meter", "meter", "tester"]);
  });
});
