import { proofPlan } from "@earthbell/engine";
import { readCommissioning, readSite, commissioningText, typedCommissioning } from "@earthbell/model";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { BLANK_FORM, blankResult, withResult } from "./commissioning-form.ts";
import { entriesForEveryPath, entriesOf, plannedProofs } from "./proof-lines.ts";
import { formOf, placeOf, readingText, typedForm } from "./typed-form.ts";

const site = readSite(readFileSync("demo/sites/creamery.yaml"), "creamery.yaml");
if (!site.ok) throw new Error("the site has faults");
const plan = proofPlan(site.record);
const proofs = plannedProofs(plan);
const lines = proofs.flatMap(({ steps }) => steps.flatMap((step) => step.lines));
const figures = (): boolean => true;

describe("the form of a commissioning", () => {
  it("filled in from a file makes the same file again", () => {
    const text = readFileSync("demo/commissioning/creamery-2026-02-03.yaml", "utf8");
    const read = readCommissioning(text, "c.yaml", plan);
    if (!read.ok) throw new Error(JSON.stringify(read.faults));
    const form = formOf(typedCommissioning(read.record));
    const again = commissioningText(typedForm("creamery", form, figures).typed);
    expect(readCommissioning(again, "again.yaml", plan)).toEqual(read);
  });

  it("finds every result of a file at one of its lines", () => {
    const text = readFileSync("demo/commissioning/creamery-2026-02-03.yaml", "utf8");
    const read = readCommissioning(text, "c.yaml", plan);
    if (!read.ok) throw new Error(JSON.stringify(read.faults));
    const form = formOf(typedCommissioning(read.record));
    const shown = new Set(
      lines
        .flatMap((line) => [...entriesOf(form, line), ...entriesForEveryPath(form, line)])
        .map(({ key }) => key),
    );
    expect(form.results.filter(({ key }) => !shown.has(key))).toEqual([]);
  });

  it("asks for the tests of an array once, and for one voltage of a string at the temperature there is", () => {
    const of = (step: string) => lines.filter((line) => line.slot.step === step);
    expect(of("insulation-test")).toHaveLength(2);
    expect(of("alarm-operates").map(({ slot }) => slot.path)).toEqual(["P1", "P1", "P1", "P2", "P2", "P2"]);
    // Three strings at four temperatures each, and that they are alike.
    expect(of("open-circuit-voltage").map(({ alternatives }) => alternatives.length)).toEqual([4, 4, 4, 0]);
  });

  it("names the field of the form at which a fault of the file lies", () => {
    const [first, second] = lines as [(typeof lines)[number], (typeof lines)[number]];
    const blank = withResult(BLANK_FORM, blankResult(first.slot, "untouched"));
    const form = withResult(blank, { ...blankResult(second.slot, "one"), reading: "3" });
    const { names } = typedForm("creamery", form, figures);
    expect(names.results).toEqual(["one"]);
    expect(placeOf(names, "results[0].reading")).toBe("result:one.reading");
    expect(placeOf(names, "conditions[0].time")).toBe("conditions[0].time");
  });

  it.each([
    ["18", "MΩ", "18 MΩ"],
    ["> 1", "GΩ", "> 1 GΩ"],
    ["18 kΩ", "MΩ", "18 kΩ"],
    ["silent", "MΩ", "silent"],
    ["18", "", "18"],
  ])("reads %s with %s beside it as %s", (reading, unit, whole) => {
    expect(readingText({ reading, unit })).toBe(whole);
  });
});
