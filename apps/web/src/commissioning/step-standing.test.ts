import { proofPlan } from "@earthbell/engine";
import { judgeResults, readSite } from "@earthbell/model";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { BLANK_FORM, blankDrill, blankResult, withResult } from "./commissioning-form.ts";
import { plannedProofs } from "./proof-lines.ts";
import { standingOf, standingOfDrill } from "./step-standing.ts";

const site = readSite(readFileSync("demo/sites/creamery.yaml"), "creamery.yaml");
if (!site.ok) throw new Error("the site has faults");
const plan = proofPlan(site.record);
const steps = plannedProofs(plan)[0]!.steps;
const stepNamed = (id: string) => steps.find(({ step }) => step.id === id)!;
const insulation = stepNamed("insulation-test");

/** How the insulation test stands: the voltage of the test is for a person to judge, the insulation for its limit. */
function withReadings(
  test: { readonly reading: string; readonly passed: "" | "yes" | "no" } | null,
  ohms: string | null,
  wrong: ReadonlyMap<string, string> = new Map(),
) {
  const blank = (at: 0 | 1) => blankResult(insulation.lines[at]!.slot, `r${at}`);
  const typed = [
    ...(test === null ? [] : [{ ...blank(0), ...test }]),
    ...(ohms === null ? [] : [{ ...blank(1), reading: ohms }]),
  ];
  const asked = typed.map(({ array, step, line, reading }) => ({ array, step, line: line!, reading }));
  const judged = judgeResults(plan, asked);
  const form = typed.reduce(withResult, BLANK_FORM);
  const judgements = new Map(typed.map(({ key }, at) => [key, judged[at]!.judgement]));
  return standingOf(insulation, { form, judgements, wrong });
}
const TESTED = { reading: "1000 V", passed: "yes" } as const;

describe("how a step of a commissioning stands", () => {
  it("is open until every line is entered, and done when all of them pass", () => {
    expect(insulation.lines).toHaveLength(2);
    expect(withReadings(null, null)).toEqual({ state: "none", word: "Open", entered: "0 of 2 entered" });
    expect(withReadings(null, "40 MΩ")).toMatchObject({ word: "Open", entered: "1 of 2 entered" });
    expect(withReadings(TESTED, "40 MΩ")).toMatchObject({ state: "proven", word: "Done" });
  });

  it("is told by what does not pass before by what is entered", () => {
    expect(withReadings(TESTED, "0.4 MΩ")).toMatchObject({ state: "fault", word: "One does not pass" });
    expect(withReadings({ ...TESTED, passed: "no" }, "0.4 MΩ")).toMatchObject({ word: "2 do not pass" });
  });

  it("is to be put right where something typed cannot be read", () => {
    const wrong = new Map([["result:r1.reading", "Allowed: a resistance."]]);
    expect(withReadings(TESTED, "many", wrong)).toMatchObject({
      state: "unsure",
      word: "To be put right",
    });
    expect(withReadings(TESTED, null, wrong)).toMatchObject({ word: "Open" });
  });

  it("stays open where a thing was seen and nobody has said whether it passes", () => {
    const polarity = stepNamed("polarity");
    const seen = { ...blankResult(polarity.lines[0]!.slot, "p"), reading: "all strings as marked" };
    const stands = (passed: "" | "yes" | "no") =>
      standingOf(polarity, {
        form: withResult(BLANK_FORM, { ...seen, passed }),
        judgements: new Map([["p", { verdict: "a-person-decides" }]]),
        wrong: new Map(),
      }).word;
    expect([stands(""), stands("yes"), stands("no")]).toEqual(["Open", "Done", "One does not pass"]);
  });

  it("follows the word of a person at a drill", () => {
    const drill = { ...blankDrill("P1"), raised: "10:00", acknowledged: "10:04" };
    const none = new Map<string, string>();
    expect(standingOfDrill(drill, none).word).toBe("Open");
    expect(standingOfDrill({ ...drill, proved: "yes" }, none)).toEqual({ state: "proven", word: "Done" });
    expect(standingOfDrill({ ...drill, proved: "no" }, none)).toEqual({ state: "fault", word: "Not proved" });
    expect(standingOfDrill(drill, new Map([["drill:P1.acknowledged", "before it was raised"]])).word).toBe(
      "To be put right",
    );
  });
});
