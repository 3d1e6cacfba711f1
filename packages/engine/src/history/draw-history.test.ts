import { describe, expect, it } from "vitest";
import { svgText } from "../drawings/drawing.ts";
import { drawHistory } from "./draw-history.ts";
import { readFleet } from "./fleet/read-fleet.ts";
import { readHistory } from "./read-history.ts";
import { simulateHistory, type SimulatedTrouble } from "./simulate/index.ts";

const readOf = (trouble: SimulatedTrouble, seed: number) =>
  readHistory(
    {
      array: `A<${seed}>`,
      readings: simulateHistory({ trouble, seed, firstDay: 19_000, days: 800, offsetMin: 0 }).readings,
    },
    { timezone: "UTC", threshold: { value: 40_000, source: "test", tag: "user" } },
  );

describe("the drawing of a history", () => {
  const svg = svgText(drawHistory(readOf("moisture-driven", 3)));

  it("can be read without seeing it", () => {
    expect(svg).toContain('role="img"');
    expect(svg).toContain("<title>Insulation of A&lt;3&gt; each morning: moisture-driven fault</title>");
    expect(svg).toMatch(
      /<desc>Below the threshold on .* mornings, last on 2024-03-15\. 2022-01-08 to .*below the dry level/u,
    );
  });

  it("tells wet from dry by shape, and draws the threshold", () => {
    expect(svg).toMatch(/<path d="M[^"]*z"/u);
    expect(svg).toContain("<circle");
    expect(svg).toContain("alarm below 40 kΩ");
  });

  it("sets the days of steps that lie close together one below the other", () => {
    const read = readOf("hard", 5);
    const from = read.mornings[0]!.day;
    const step = (after: number) => ({
      day: from + after,
      date: `day ${after}`,
      kind: "step" as const,
      fromOhms: 5e6,
      toOhms: 1e6,
    });
    const changes = [step(300), step(310), step(790)];
    const drawn = svgText(drawHistory({ ...read, finding: { ...read.finding, changes, forecast: null } }));
    const labels = [...drawn.matchAll(/<text x="([\d.]+)" y="([\d.]+)"[^>]*>step day/gu)];
    const [first, second, last] = labels.map(([, x, y]) => ({ x: Number(x), y: Number(y) }));
    expect(labels).toHaveLength(3);
    expect(second!.y).toBeGreaterThanOrEqual(first!.y + 11);
    // The last has no room to its right and stands before its line.
    expect(last!.x).toBeLessThan(860 - 16 - 60);
    expect(last!.y).toBe(first!.y);
  });

  it("holds no number that is none", () => {
    expect(svg).not.toMatch(/NaN|Infinity|undefined/u);
  });

  it("of an array without readings is an empty sheet that says so", () => {
    const empty = svgText(drawHistory(readHistory({ array: "A1", readings: [] }, { timezone: "UTC" })));
    expect(empty).toContain("too little data for a verdict");
    expect(empty).not.toMatch(/NaN|Infinity/u);
  });
});

describe("a fleet", () => {
  const arrays = Array.from({ length: 24 }, (_, i) => ({
    finding: readOf(i % 4 === 0 ? "hard" : "healthy", 40 + i).finding,
    traits: { connector: i % 4 === 0 || i === 5 ? "K2" : "K1", installer: i < 12 ? "north" : "south" },
  }));

  it("names the connector that drifts and not the installer", () => {
    const calls = readFleet(arrays).groups.filter(({ standsOut }) => standsOut);
    expect(calls.map(({ trait, name }) => `${trait} ${name}`)).toEqual(["connector K2"]);
  });

  it("puts arrays below the threshold first, and weighs consequence", () => {
    const { ranking } = readFleet(arrays.map((one, i) => (i === 8 ? { ...one, consequence: 3 } : one)));
    expect(ranking[0]!.consequence).toBe(3);
    expect(ranking.slice(0, 3).every(({ withinYear }) => withinYear! > 0.9)).toBe(true);
  });

  it("of no arrays has nothing to say", () => {
    expect(readFleet([])).toMatchObject({ arrays: 0, groups: [], ranking: [] });
  });
});
