import { describe, expect, it } from "vitest";
import type { SiteCoverage } from "../detector-coverage/index.ts";
import type { NoticeReport } from "../path/notice-report.ts";
import { svgText } from "./drawing.ts";
import { drawNoticeReport, drawSiteCoverage } from "./report-drawings.ts";

const answer = (paths: readonly string[], medianHours: number): NoticeReport["answers"][number] => ({
  paths,
  medianHours,
  p95Hours: 30,
  unnoticedAfter24h: 0.1,
  unnoticedAfter7d: 0.01,
  unnoticedAfter28d: 0,
  meanHours: 10,
  biggestCause: null,
  curve: [
    { hours: 0, unnoticed: 1 },
    { hours: medianHours, unnoticed: 0.5 },
    { hours: 672, unnoticed: 0 },
  ],
});

function report(answers: NoticeReport["answers"]): NoticeReport {
  return {
    format: "earthbell.notice/1",
    site: "mill & <loft>",
    onDate: null,
    followedDays: 28,
    answers,
    notPerceived: [],
    causes: [],
    changes: [],
    assumed: [],
  };
}

describe("the drawing of a notice report", () => {
  const svg = svgText(
    drawNoticeReport(report([answer(["P1"], 8), answer(["P2"], 20), answer(["P1", "P2"], 7)]))!,
  );

  it("draws all paths together first and heaviest, then each alone by another dash", () => {
    const names = ["P1, P2 together", "path P1", "path P2"].map((name) => svg.indexOf(`>${name}<`));
    expect(names.every((at) => at > 0)).toBe(true);
    expect([...names].sort((a, b) => a - b)).toEqual(names);
    expect(new Set(svg.match(/stroke-dasharray="[\d ]+"/gu))).toContain('stroke-dasharray="7 4"');
  });

  it("says the same in words, on paper of its own, with the names of the file made safe", () => {
    expect(svg).toMatch(/^<svg [^>]*role="img"/u);
    expect(svg).toContain("<title>Faults of mill &amp; &lt;loft&gt; that nobody has noticed yet</title>");
    expect(svg).toMatch(/<desc>P1, P2 together, Half known within 7 h[^<]*path P2, Half known within 20 h/u);
    expect(svg).toMatch(/<rect x="0" y="0"[^>]*fill="#faf8f3"/u);
  });

  it("is none without a path", () => {
    expect(drawNoticeReport(report([]))).toBeNull();
  });
});

describe("the drawing of an array's coverage", () => {
  const cell = (soon: "at-once" | "next-start" | "never") => ({ soon, by: [] });
  const share = { "at-once": 0.5, "next-start": 0.25, never: 0.25 };
  const coverage: SiteCoverage = {
    array: "A1",
    detectors: [],
    healthy: null,
    missing: [],
    assumed: [],
    map: {
      positions: [0, 1],
      faultOhms: [1, 1000],
      cells: {
        running: [
          [cell("at-once"), cell("never")],
          [cell("at-once"), cell("next-start")],
        ],
        night: [
          [cell("next-start"), cell("never")],
          [cell("next-start"), cell("never")],
        ],
      },
      shares: { running: share, night: share },
      blindPositions: [],
    },
  };

  it("holds both grids, and says each row of both in words", () => {
    const svg = svgText(drawSiteCoverage(coverage)!);
    expect(svg).toContain("Array A1, faults born while the inverter runs");
    expect(svg).toContain("Array A1, faults born in the dark");
    expect(svg.match(/born (?:while the inverter runs|in the dark), place/gu)).toHaveLength(4);
    expect(svg).toContain("born in the dark, place 1, seen at once 0 %, seen at the next start 50 %");
  });

  it("is none without a map", () => {
    expect(drawSiteCoverage({ ...coverage, map: null })).toBeNull();
  });
});
