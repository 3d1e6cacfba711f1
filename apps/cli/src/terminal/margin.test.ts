import { describe, expect, it } from "vitest";
import { textWidth, withMargin } from "./margin.ts";
import { plainStyle } from "./style.ts";

const page = (width: number, ascii = false) => ({ width, style: plainStyle, ascii });
const block = { lines: ["  Threshold   30 kΩ"], note: "AS/NZS 5033:2014 Table 3.2; memory" };

describe("withMargin", () => {
  it("sets the note beside its line from 100 columns on", () => {
    const [line, ...more] = withMargin([{ ...block, note: "AS/NZS 5033:2014; memory" }], page(100));
    expect(more).toEqual([]);
    expect(line?.indexOf("AS/NZS")).toBe(textWidth(page(100)) + 3);
  });

  it("sets it below, indented and marked, on a narrower page", () => {
    expect(withMargin([block], page(80))).toEqual([
      "  Threshold   30 kΩ",
      "    ↳ AS/NZS 5033:2014 Table 3.2; memory",
    ]);
  });

  it("marks it in ASCII when asked", () => {
    expect(withMargin([block], page(80, true))[1]).toBe("    > AS/NZS 5033:2014 Table 3.2; memory");
  });

  it("lets a long note run on below a short text", () => {
    const long = { lines: ["short"], note: "word ".repeat(20).trim() };
    const lines = withMargin([long, { lines: ["next"] }], page(100));
    expect(lines.length).toBeGreaterThan(2);
    expect(lines.at(-1)).toBe("next");
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(100);
  });
});
