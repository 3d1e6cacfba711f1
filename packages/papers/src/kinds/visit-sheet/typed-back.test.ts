import { readFileSync } from "node:fs";
import { locate } from "@earthbell/engine";
import { readSite, readVisit } from "@earthbell/model";
import { describe, expect, it } from "vitest";
import type { Block, Table } from "../../content/paper.ts";
import { issueOf } from "../../identity/issue.ts";
import { visitSheet } from "./visit-sheet.ts";

const site = readSite(
  readFileSync(new URL("../../../../../demo/sites/creamery.yaml", import.meta.url), "utf8"),
  "creamery.yaml",
);
if (!site.ok) throw new Error("the demo's site is not sound");
const issue = issueOf(
  { kind: "visit-sheet", of: "creamery", language: "en", input: {}, today: "2026-11-25", version: "1" },
  (text) => text,
);
const { blocks } = visitSheet(site.record, issue);

/** The table whose heads hold this field. */
function tableWith(field: string): Table {
  const isTable = (block: Block): block is Table => block.kind === "table";
  return blocks.filter(isTable).find(({ columns }) => columns.some(({ head }) => head === field))!;
}

/** A line of a table as its entry in a visit file: the heads are the fields, empty cells are left out, text is quoted. */
function entry({ columns }: Table, cells: readonly string[], quoted: readonly string[]): string {
  const fields = columns.flatMap(({ head }, at) => {
    const cell = cells[at]!.replace("−", "-");
    return cell === "" ? [] : [`${head}: ${quoted.includes(head) ? JSON.stringify(cell) : cell}`];
  });
  return `  - {${fields.join(", ")}}`;
}

const OPEN_VOLTS = 463;
const MODULES = 13;
const FAULT_AT = 5;
const FAULT_OHMS = 12_000;
const METER_OHMS = 10e6;

/**
 * What a meter of 10 MΩ shows at a string with one fault: the voltage from the pole to the fault, divided between the fault
 * and the meter with whatever lies beside it (Ohm's law, by hand).
 */
function shows(from: string, to: string, shunt: string): number {
  if (to === "-") return OPEN_VOLTS;
  const share = from === "-" ? FAULT_AT / MODULES : 1 - FAULT_AT / MODULES;
  const beside = shunt === "" ? METER_OHMS : 1 / (1 / METER_OHMS + 1 / 100e3);
  return OPEN_VOLTS * share * (beside / (beside + FAULT_OHMS));
}

describe("a visit sheet", () => {
  const strings = tableWith("moduleVoc");
  const readings = tableWith("testVoltage");
  const column = (table: Table, field: string): number =>
    table.columns.findIndex(({ head }) => head === field);
  const onS2 = readings.rows.filter((row) => row[column(readings, "on")] === "S2");
  const filled = onS2.map((row) => {
    const cell = (field: string): string => row[column(readings, field)]!.replace("−", "-");
    const volts = shows(cell("from"), cell("to"), cell("shunt")).toFixed(1);
    return row.map((written, at) => (at === column(readings, "value") ? `${volts} V` : written));
  });
  const text = [
    "format: earthbell.visit/1",
    "strings:",
    ...strings.rows.filter(([id]) => id === "S2").map((row) => entry(strings, row, ["id"])),
    "instruments:",
    "  meter: {kind: voltmeter, inputResistance: 10 MΩ, accuracy: {reading: 0.3 %, floor: 0.1 V}}",
    "conditions: {wet: false}",
    "readings:",
    ...filled.map((row) => entry(readings, row, ["with", "on", "from", "to"])),
  ].join("\n");

  it("filled in and typed back line by line is a visit file", () => {
    expect(onS2.length).toBeGreaterThanOrEqual(5);
    const read = readVisit(text, "typed.yaml");
    expect(read.ok ? [] : read.faults).toEqual([]);
  });

  it("and its readings find the place that they were worked out for", () => {
    const read = readVisit(text, "typed.yaml");
    if (!read.ok) throw new Error("it was not read");
    const finding = locate(read.record);
    expect(finding.places[0]).toMatchObject({ string: "S2", at: FAULT_AT, what: "junction" });
    expect(finding.faultResistance!.low).toBeLessThan(FAULT_OHMS);
    expect(finding.faultResistance!.high).toBeGreaterThan(FAULT_OHMS);
  });
});
