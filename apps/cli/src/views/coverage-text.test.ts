import type { CoverageReport, Site } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import { plainStyle } from "../terminal/style.ts";
import { displayWidth } from "../terminal/width.ts";
import { coverageText } from "./coverage-text.ts";

type Cell = NonNullable<CoverageReport["arrays"][number]["map"]>["cells"]["night"][number][number];
const never: Cell = { soon: "never", by: [] };
const start: Cell = { soon: "next-start", by: ["insulation-start"] };
const both: Cell = { soon: "at-once", by: ["insulation-continuous", "residual"] };

const report: CoverageReport = {
  format: "earthbell.coverage/1",
  site: "mill",
  arrays: [
    {
      array: "A1",
      detectors: ["insulation check at start, at 30 kΩ"],
      map: {
        positions: [0, 1, 2],
        faultOhms: [1, 10, 100],
        cells: {
          running: [
            [both, both, never],
            [start, never, never],
            [start, never, never],
          ],
          night: [
            [start, start, never],
            [start, start, never],
            [start, start, never],
          ],
        },
        shares: {
          running: { "at-once": 0.22, "next-start": 0.22, never: 0.56 },
          night: { "at-once": 0, "next-start": 0.67, never: 0.33 },
        },
        blindPositions: [],
      },
      healthy: {
        floorOhms: 400_000,
        marginToThreshold: 13.3,
        largestAreaM2: 1100,
        falseAlarm: "unlikely",
        standingLeak: null,
      },
      missing: [],
      assumed: [],
    },
    { array: "A2", detectors: [], map: null, healthy: null, missing: ["arrays A2: earthing"], assumed: [] },
  ],
};
const site = { id: "mill", place: { country: "AU" } } as Site;
const drawn = (width: number, ascii = false): string =>
  coverageText({ report, site }, { width, ascii, style: plainStyle }).join("\n").replaceAll("\u00a0", " ");

describe("coverageText", () => {
  it("draws a letter for what sees a fault, joins equal rows, and spells every letter out", () => {
    const text = drawn(80);
    expect(text).toMatch(/^ +0 +X X \.$/mu);
    expect(text).toMatch(/^ +1-2 +I \. \.$/mu);
    expect(text).toMatch(/X insulation watched all day and residual-current\s+monitor/u);
    expect(text).toContain(". nothing");
  });

  it("gives the share unseen by day and night, and the margin of the healthy floor", () => {
    expect(drawn(80)).toMatch(/Unseen +56 % of the map while running, 33 % in the dark/u);
    expect(drawn(80)).toMatch(/400 kΩ, 13.3 times the/u);
  });

  it("says that no map can be made, and what is missing", () => {
    expect(drawn(80)).toMatch(/no map can be made[\s\S]*missing: arrays A2: earthing/u);
  });

  it.each([40, 60, 80, 100, 120])("fits %i columns", (width) => {
    expect(Math.max(...drawn(width).split("\n").map(displayWidth))).toBeLessThanOrEqual(width);
  });
});
