import { describe, expect, test } from "vitest";
import { readVisit } from "./read-visit.ts";

const visitWith = (earth: string): string => `format: earthbell.visit/1
strings: [{id: S1, modules: 12}]
functionalEarth: ${earth}
readings:
  - {on: S1, from: -, to: earth, value: 12 V}
`;

describe("the functional earth of a visit", () => {
  test("is read with its pole, its resistor and whether it was opened", () => {
    const read = readVisit(visitWith("{on: S1, pole: -, through: 20 kΩ, opened: false}"), "visit.yaml");
    if (!read.ok) throw new Error(JSON.stringify(read.faults));
    expect(read.record.functionalEarth).toEqual({ on: "S1", pole: "-", through: 20e3, opened: false });
  });

  test("on a string that the visit does not have is refused with its line", () => {
    const read = readVisit(visitWith("{on: S7, pole: -, opened: true}"), "visit.yaml");
    expect(read.ok ? [] : read.faults).toMatchObject([
      { code: "INPUT_REFERENCE_UNKNOWN", line: 3, field: "functionalEarth.on", value: "S7" },
    ]);
  });

  test("without saying whether it was opened is refused: the answer turns on it", () => {
    const read = readVisit(visitWith("{on: S1, pole: +}"), "visit.yaml");
    expect(read.ok ? [] : read.faults).toMatchObject([
      { code: "INPUT_FIELD_MISSING", field: "functionalEarth.opened" },
    ]);
  });
});
