import { describe, expect, it } from "vitest";
import { noticeReport } from "./notice-report.ts";
import { indicator, message, tarn } from "./tarn.fixture.ts";

const closely = { everyDays: 24 };

describe("noticeReport", () => {
  const report = noticeReport({ ...tarn, paths: [message, indicator] }, "2026-06-01", closely);

  it("answers for each path and for all, each with what delays it most", () => {
    expect(report.answers.map(({ paths }) => paths)).toEqual([["P1"], ["P3"], ["P1", "P3"]]);
    for (const { biggestCause } of report.answers) expect(biggestCause!.hours).toBeGreaterThan(0);
    expect(report.answers[2]!.biggestCause).toEqual(report.causes[0]);
  });

  it("gives every assumption its source and tag, and names each once", () => {
    const texts = report.assumed.map(({ text }) => text);
    expect(new Set(texts).size).toBe(texts.length);
    expect(texts.join()).toMatch(/half of the passes.*born wet/u);
    for (const { source, tag } of report.assumed) expect([source, tag]).not.toContain("");
  });

  it("of a site without paths has no answer and no cause", () => {
    const { answers, notPerceived } = noticeReport({ ...tarn, paths: [] }, undefined, closely);
    expect([answers, notPerceived]).toEqual([[], []]);
  });
});
