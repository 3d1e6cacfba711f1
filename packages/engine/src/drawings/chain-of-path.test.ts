import { describe, expect, it } from "vitest";
import type { AssessmentFinding, PathAssessment } from "../assess/assessment.ts";
import type { MessagePath, Proof, Site } from "../assess/site.ts";
import { chainOfPath } from "./chain-of-path.ts";

const path: MessagePath = { id: "P1", signal: "message", arrays: ["A1"], to: ["owner", "desk"] };

function siteWith(proofs: readonly Proof[]): Site {
  return {
    id: "mill",
    place: { country: "AU" },
    modules: [],
    inverters: [],
    arrays: [],
    people: [],
    paths: [path],
    proofs,
  };
}

function judged(...codes: readonly [string, AssessmentFinding["severity"]][]): PathAssessment {
  return {
    path: "P1",
    signal: "message",
    verdict: "unproven",
    findings: codes.map(([code, severity]) => ({ code, severity, text: "" })),
  };
}

const drill: Proof = { path: "P1", kind: "drill", on: "2026-02-03" };

describe("the chain of a path", () => {
  it("proves only the joint from signal to person by a drill", () => {
    const found = judged(["PATH_PROOF_CURRENT", "note"], ["PATH_PROOF_DETECTOR_NOT_TESTED", "caution"]);
    const { joints } = chainOfPath(path, siteWith([drill]), found);
    expect(joints.map(({ state }) => state)).toEqual(["unproven", "unproven", "proven"]);
    expect(joints[2]?.words).toBe("2026-02-03");
  });

  it("proves every joint where the newest proof counts for the detector too", () => {
    const { joints } = chainOfPath(path, siteWith([drill]), judged(["PATH_PROOF_CURRENT", "note"]));
    expect(joints.every(({ state }) => state === "proven")).toBe(true);
  });

  it("shows a lapsed proof as not proven, with its day", () => {
    const { joints } = chainOfPath(path, siteWith([drill]), judged(["PATH_PROOF_OLD", "caution"]));
    expect(joints.every(({ state, words }) => state === "unproven" && words === "last 2026-02-03")).toBe(
      true,
    );
  });

  it.each([
    ["PATH_RECIPIENTS_TOO_FEW", 3],
    ["PATH_LINK_UNSUPERVISED", 2],
    ["PATH_DETECTOR_NONE", 1],
    ["PATH_SERVES_NO_ARRAY", 0],
  ] as const)("puts the bracket of %s under link %d", (code, link) => {
    expect(chainOfPath(path, siteWith([]), judged([code, "fault"])).weakest?.link).toBe(link);
  });

  it("prefers how a path is built over its proof, a fault over a caution, and names none where there is neither", () => {
    const graver = judged(
      ["PATH_PROOF_MISSING", "caution"],
      ["PATH_LINK_WEAK", "caution"],
      ["PATH_RECIPIENTS_NONE", "fault"],
    );
    expect(chainOfPath(path, siteWith([]), graver).weakest?.link).toBe(3);
    const lighter = judged(["PATH_PROOF_MISSING", "caution"], ["PATH_LINK_WEAK", "caution"]);
    expect(chainOfPath(path, siteWith([]), lighter).weakest?.mend).toMatch(/link/iu);
    expect(chainOfPath(path, siteWith([]), judged(["PATH_PROOF_CURRENT", "note"])).weakest).toBeNull();
  });
});
