import { proofPlan, type Site } from "@earthbell/engine";
import { describe, expect, test } from "vitest";
import { COMMISSIONED_SITE, COMMISSIONING_YAML } from "../fixtures/commissioning-file.ts";
import { malformed } from "../fixtures/malformed.ts";
import { MALFORMED_COMMISSIONINGS } from "../fixtures/malformed-commissioning.ts";
import { readSite } from "../site/read-site.ts";
import { readCommissioning } from "./read-commissioning.ts";

function commissioned(): Site {
  const read = readSite(COMMISSIONED_SITE, "loom.yaml");
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.record;
}
const plan = proofPlan(commissioned());

describe("readCommissioning", () => {
  test("reads who, with what, under which conditions, and what was found", () => {
    expect(readCommissioning(COMMISSIONING_YAML, "c.yaml", plan)).toMatchObject({
      ok: true,
      record: {
        site: "loom",
        by: { name: "A. Tester", licence: "REC 00000" },
        conditions: [{ time: "07:40", air: 12, irradiance: 180 }],
        instruments: [{ id: "A", calibrated: "2026-01-09", provedAfter: true }],
        results: [{ step: "earth-continuity" }, { line: 2, reading: "> 1 GΩ" }, { path: "P1" }],
        drills: [{ acknowledged: "08:11", proved: true }],
        signatures: [{ as: "tested" }],
      },
    });
  });

  test("takes another limit with its source, and a reading that did not pass", () => {
    const own = COMMISSIONING_YAML.replace(
      'reading: "> 1 GΩ", with: A, passed: true',
      "reading: 0.6 MΩ, with: A, limit: 0.5 MΩ, limitFrom: the local code, passed: true",
    ).replace("reading: 0.4 Ω, with: A, passed: true", "reading: 4 Ω, with: A, passed: false");
    expect(own).not.toBe(COMMISSIONING_YAML);
    expect(readCommissioning(own, "c.yaml", plan).ok).toBe(true);
  });

  test("checks nothing against a site where none is given", () => {
    const other = COMMISSIONING_YAML.replace("site: loom", "site: mill");
    expect(readCommissioning(other, "c.yaml", null).ok).toBe(true);
  });

  test.each(MALFORMED_COMMISSIONINGS)("points at $title with $code", (row) => {
    const { text, code, line, column, field, says = "" } = malformed(COMMISSIONING_YAML, row);
    const result = readCommissioning(text, "c.yaml", plan);
    if (result.ok) throw new Error("It was read without a fault");
    const [fault, ...again] = result.faults.filter((found) => found.field === field);
    expect(again).toEqual([]);
    expect(fault, JSON.stringify(result.faults)).toMatchObject({ code, file: "c.yaml", line, column });
    expect(`${fault!.message} ${fault!.allowed}`).toContain(says);
  });
});
