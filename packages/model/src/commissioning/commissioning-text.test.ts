import { proofPlan } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import { COMMISSIONED_SITE, COMMISSIONING_YAML } from "../fixtures/commissioning-file.ts";
import { readSite } from "../site/read-site.ts";
import { commissioningText, typedCommissioning } from "./commissioning-text.ts";
import { judgeResults, type TypedResult } from "./judge-results.ts";
import { type Commissioning, readCommissioning } from "./read-commissioning.ts";

const site = readSite(COMMISSIONED_SITE, "loom.yaml");
if (!site.ok) throw new Error("the site has faults");
const plan = proofPlan(site.record);

function recordOf(text: string): Commissioning {
  const read = readCommissioning(text, "c.yaml", plan);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.record;
}

describe("commissioningText", () => {
  it("writes a record that reads as the same record", () => {
    const record = recordOf(COMMISSIONING_YAML);
    expect(recordOf(commissioningText(typedCommissioning(record)))).toEqual(record);
  });

  it("keeps quotes, hashes and words of YAML as they were typed", () => {
    const record = recordOf(COMMISSIONING_YAML);
    const odd = { ...record, by: { name: `no`, licence: `"7" # of {many}: [1, ü]` } };
    expect(recordOf(commissioningText(typedCommissioning(odd))).by).toEqual(odd.by);
  });

  it("leaves out what nobody has typed, for the reader to name it at its field", () => {
    const blank = {
      ...{ by: {}, conditions: [], instruments: [], results: [], settings: [] },
      ...{ drills: [], signatures: [] },
    };
    const read = readCommissioning(commissioningText({ site: "loom", ...blank }), "c.yaml", plan);
    const fields = read.ok ? [] : read.faults.map(({ field }) => field);
    expect(fields.toSorted()).toEqual(["by.name", "conditions", "instruments", "on", "results"]);
  });
});

describe("judgeResults", () => {
  const insulation = { array: "A1", step: "insulation-test", line: 2 };
  const judged = (typed: object): readonly unknown[] => {
    const [one] = judgeResults(plan, [{ ...insulation, ...(typed as Partial<TypedResult>) }]);
    return [one!.judgement?.verdict ?? null, one!.result.passed ?? null];
  };

  // The least insulation of the site is 1 MΩ: its test is made at 500 V (IEC 62446-1, table of least resistances [memory]).
  it.each([
    ["a reading above the least insulation", { reading: "1.2 MΩ" }, ["passes", true]],
    ["one below it", { reading: "0.9 MΩ" }, ["fails", false]],
    ["one below it that is called passed", { reading: "0.9 MΩ", passed: true }, ["fails", false]],
    ["one above it that somebody does not pass", { reading: "1.2 MΩ", passed: false }, ["passes", false]],
    ["one beyond the end of the instrument", { reading: "> 0.5 MΩ" }, ["passes", true]],
    ["one above a limit of the job", { reading: "0.9 MΩ", limit: "0.5 MΩ" }, ["passes", true]],
    ["one in volts", { reading: "9 V" }, ["unreadable", null]],
    ["a line without a limit", { line: 1, reading: "500 V", passed: true }, ["a-person-decides", true]],
    ["a line that nobody has read", {}, [null, null]],
    ["a line that the step has not", { line: 9, reading: "1 MΩ" }, [null, null]],
  ])("judges %s", (_, typed, verdict) => {
    expect(judged(typed)).toEqual(verdict);
  });

  it("says on which side of which limit a reading lies", () => {
    const [one] = judgeResults(plan, [{ ...insulation, reading: "0.9 MΩ" }]);
    expect(one!.judgement).toMatchObject({ text: "0.9 MΩ is below 1 MΩ, the limit" });
  });
});
