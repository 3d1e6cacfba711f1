import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { drawHistory } from "./draw-history.ts";
import { readFleet } from "./fleet/read-fleet.ts";
import { headlineOf } from "./headline.ts";
import { readHistory } from "./read-history.ts";

const DAY = 86_400_000;
const FIRST = Date.UTC(2024, 0, 1, 6, 30);
const THRESHOLD = 40_000;
const CONTEXT = {
  timezone: "UTC",
  threshold: { value: THRESHOLD, source: "test", tag: "user" },
} as const;

/** A sound array, but for these mornings, counted from the newest. */
function historyWith(low: Readonly<Record<number, number>>, days = 400) {
  const readings = Array.from({ length: days }, (_, day) => ({
    at: FIRST + day * DAY,
    ohms: low[days - 1 - day] ?? 5e6 * 10 ** (0.05 * Math.sin(day * 12.9898)),
  }));
  return readHistory({ array: "A1", readings }, CONTEXT);
}

const NEWEST = "2025-02-03";
const fellToday = historyWith({ 0: 12_000 });
const fellLately = historyWith({ 20: 12_000 });

describe("what stands first about a history", () => {
  it("is the kind of trouble alone where nothing was below the threshold", () => {
    expect(headlineOf(historyWith({}).finding)).toEqual({ reached: null, below: null, pattern: "healthy" });
  });

  it("is the newest morning below the threshold, and never that the array is healthy", () => {
    expect(fellToday.finding.verdict).toBe("healthy");
    expect(headlineOf(fellToday.finding)).toEqual({
      reached: "newest",
      below: `Below the threshold on its newest morning, ${NEWEST} (12 kΩ, threshold 40 kΩ): an alarm, whatever the history says.`,
      pattern: "no pattern in the history",
    });
  });

  it("is an earlier morning of the newest ninety days, with its date", () => {
    expect(headlineOf(fellLately.finding)).toEqual({
      reached: "lately",
      below: "Below the threshold on 1 of the newest 90 mornings, last on 2025-01-14.",
      pattern: "no pattern in the history",
    });
    expect(headlineOf(historyWith({ 95: 12_000 }).finding).below).toBeNull();
  });

  it("is no excuse by the sensor: a record that looks like one stays an alarm", () => {
    const { finding } = fellToday;
    const { pattern } = headlineOf({ ...finding, verdict: "sensor" });
    expect(pattern).toBe("the history points to the sensor; a test has to show it");
  });

  it("holds below any threshold and for any few mornings: whatever is below is said, first of all", () => {
    const lows = fc.dictionary(
      fc.integer({ min: 0, max: 89 }).map(String),
      fc.integer({ min: 1000, max: THRESHOLD - 1 }),
      { minKeys: 1, maxKeys: 6 },
    );
    fc.assert(
      fc.property(lows, (low) => {
        const { below, reached, pattern } = headlineOf(historyWith(low, 120).finding);
        expect(below).toMatch(/^Below the threshold on /u);
        expect(reached).toBe("0" in low ? "newest" : "lately");
        expect(pattern).not.toMatch(/healthy|not the array/u);
      }),
      { numRuns: 20 },
    );
  });

  it("stands over the drawing and in its description", () => {
    const { title, marks } = drawHistory(fellToday);
    expect(title).toBe("Insulation of A1 each morning: no pattern in the history");
    expect(JSON.stringify(marks)).toContain("Below the threshold on its newest morning");
  });
});

describe("a fleet", () => {
  it("has arrays below the threshold on their newest morning before those that were so lately", () => {
    const findings = [historyWith({}), fellLately, fellToday].map(({ finding }) => ({ finding, traits: {} }));
    const { ranking } = readFleet(findings);
    expect(ranking.map(({ headline }) => headline.reached)).toEqual(["newest", "lately", null]);
    expect(ranking[1]!.reason).toContain("last on 2025-01-14");
  });
});
