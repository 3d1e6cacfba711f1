import type { ArrayAssessment, Assessment, AssessmentFinding, PathAssessment } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import { firstNeeds } from "./first-needs.ts";

const finding = (code: string, severity: AssessmentFinding["severity"]): AssessmentFinding => ({
  code,
  severity,
  text: "",
});
const array = (findings: readonly AssessmentFinding[], alarm = "required"): ArrayAssessment =>
  ({ array: "A1", duty: { alarm }, findings }) as unknown as ArrayAssessment;
const path = (verdict: PathAssessment["verdict"], ...faults: readonly string[]): PathAssessment => ({
  path: "P2",
  signal: "message",
  verdict,
  findings: faults.map((code) => finding(code, "fault")),
});
const site = (given: Partial<Assessment>): Assessment => ({
  format: "earthbell.assessment/1",
  site: "tarn-hill",
  arrays: [array([])],
  paths: [path("meets")],
  owner: { informed: true, findings: [] },
  warnings: [],
  ...given,
});

describe("firstNeeds", () => {
  it.each([
    [
      "faults of a path and an owner who was not told",
      { paths: [path("falls-short", "PATH_A", "PATH_B")], owner: { informed: false, findings: [] } },
      "Do this: 2 faults on path P2; owner not told",
    ],
    [
      "a required alarm that does not work before the faults that keep it from working",
      {
        arrays: [array([finding("DUTY_NO_SOUND_PATH", "fault")])],
        paths: [path("falls-short", "PATH_A")],
      },
      "Do this: array A1 must have an alarm and has none that works; 1 fault on path P2",
    ],
    [
      "no record of a notice, a duty that is open and a path that is not proved",
      {
        arrays: [array([], "undecided")],
        paths: [path("unproven")],
        owner: { informed: "unknown", findings: [] },
      },
      "Do this: owner not told, or not recorded; settle whether array A1 must have an alarm; prove path P2",
    ],
    [
      "what is wrong about an array, by its title",
      { arrays: [array([finding("DUTY_RESIDUAL_MONITOR_ABSENT", "fault")])] },
      "Do this: array A1: an inverter without separation has no residual-current monitor",
    ],
    [
      "a caution alone",
      { arrays: [array([finding("DUTY_X", "caution")])] },
      "Nothing falls short; 1 caution to weigh below",
    ],
    ["nothing", {}, "Nothing falls short and nothing is open; keep it proved"],
  ] as const)("for %s", (_, given, words) => {
    expect(firstNeeds(site(given as Partial<Assessment>)).words).toBe(words);
  });

  it("counts what does not fit on the line", () => {
    const paths = Array.from({ length: 8 }, () => path("falls-short", "PATH_A"));
    expect(firstNeeds(site({ paths })).words).toMatch(/; 3 more below$/u);
  });
});
