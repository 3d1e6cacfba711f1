import { describe, expect, it } from "vitest";
import { drawCurve } from "./curve.ts";
import { plainStyle } from "./style.ts";
import { displayWidth } from "./width.ts";

const page = (width: number, ascii = false) => ({ width, ascii, style: plainStyle });
const points = [
  { hours: 0, share: 1 },
  { hours: 10, share: 0.5 },
  { hours: 100, share: 0.05 },
  { hours: 672, share: 0 },
];
const marks = [
  { hours: 10, words: "half known: 10 h" },
  { hours: null, words: "95 % known: more than 28 days" },
];

/** Filled cells of a column, from the rows of the area. */
const heights = (lines: readonly string[]): readonly number[] => {
  const area = lines.slice(0, 8).map((line) => line.padEnd(200));
  return Array.from({ length: 60 }, (_, c) => area.filter((line) => line[7 + c] === "#").length);
};

describe("drawCurve", () => {
  it("falls from left to right, from the full height to nothing", () => {
    const drawn = heights(drawCurve({ points, marks }, page(67, true)));
    expect([drawn[0], drawn[59]]).toEqual([8, 0]);
    drawn.slice(1).forEach((height, index) => {
      expect(height).toBeLessThanOrEqual(drawn[index]!);
    });
  });

  it("puts a decade on equal columns: 10 h lies at ln(100)/ln(6720) of the axis", () => {
    const line = drawCurve({ points, marks }, page(67, true)).find((text) => text.includes("half"))!;
    const column = Math.round((59 * Math.log(100)) / Math.log(6720));
    expect(line.indexOf("^")).toBe(7 + column);
  });

  it("says in words, without an arrow, what lies beyond the axis", () => {
    const last = drawCurve({ points, marks }, page(80)).at(-1)!;
    expect(last.trim()).toBe("95 % known: more than 28 days");
  });

  it.each([40, 60, 80, 120])("fits %i columns, in ASCII too", (width) => {
    for (const ascii of [false, true]) {
      const lines = drawCurve({ points, marks }, page(width, ascii));
      expect(Math.max(...lines.map(displayWidth))).toBeLessThanOrEqual(width);
      if (ascii) expect(lines.join("\n").replaceAll("\u00a0", " ")).toMatch(/^[\n -~]*$/u);
    }
  });

  it("keeps a mark near the end on the page, its words before the arrow", () => {
    const late = [{ hours: 600, words: "95 % known: 25 days" }];
    expect(drawCurve({ points, marks: late }, page(60)).at(-1)).toMatch(/days ↑$/u);
  });
});
