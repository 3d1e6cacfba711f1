import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Page } from "./page.ts";
import { chooseStyle, plainStyle } from "./style.ts";
import { table } from "./table.ts";
import type { Column } from "./table.ts";
import { displayWidth, withoutInk } from "./width.ts";

const page = (width: number): Page => ({ width, style: plainStyle, ascii: false });
const columns: readonly Column[] = [
  { title: "Place", align: "left", flexible: true },
  { title: "R", align: "decimal" },
  { title: "n", align: "right" },
];

describe("table", () => {
  it("stands numbers on their decimal point and their units below each other", () => {
    const rows = [
      ["junction 5", "10.3 kΩ", "1"],
      ["junction 12", "732.65 kΩ", "20"],
      ["end", "8 kΩ", "300"],
    ];
    expect(table(columns, rows, page(80))).toEqual([
      "Place        R            n",
      "───────────────────────────",
      "junction 5    10.3  kΩ    1",
      "junction 12  732.65 kΩ   20",
      "end            8    kΩ  300",
    ]);
  });

  it("draws its hairline in ASCII when asked", () => {
    expect(table(columns, [["a", "1", "2"]], { ...page(80), ascii: true })[1]).toMatch(/^-+$/u);
  });

  it("wraps the flexible column when the page is narrow", () => {
    const lines = table(columns, [["the junction between module 5 and module 6", "10.3 kΩ", "1"]], page(40));
    expect(lines.slice(2)).toEqual([
      // 40 columns less two gaps of 2, 7 for the resistance and 1 for n leave 28 for the place.
      "the junction between module   10.3 kΩ  1",
      "5 and module 6",
    ]);
  });

  it("becomes a list of titles and values when columns cannot fit", () => {
    const many = Array.from({ length: 12 }, (_, n): Column => ({ title: `c${n}`, align: "left" }));
    const lines = table(many, [many.map((_, n) => `value ${n}`)], page(40));
    expect(lines[0]).toBe("c0   value 0");
    expect(lines).toHaveLength(12);
  });

  it("inks words, not the spaces around them", () => {
    const style = chooseStyle({ color: "always", isTerminal: false, environment: {} });
    const lines = table(columns, [[{ text: "▲ Fault", ink: style.fault }, "1 V", "2"]], {
      ...page(80),
      style,
    });
    expect(lines[2]).toContain("\u001b[1;31m▲ Fault\u001b[0m  1");
  });

  it("never draws a line wider than the page, and loses no cell", () => {
    const word = fc.stringMatching(/^[a-zΩ屋]{1,30}$/u);
    fc.assert(
      fc.property(
        fc.array(fc.tuple(word, word), { minLength: 1 }),
        fc.integer({ min: 40, max: 200 }),
        (rows, width) => {
          const two: readonly Column[] = [
            { title: "one", align: "left", flexible: true },
            { title: "two", align: "left", flexible: true },
          ];
          const lines = table(two, rows, page(width)).map(withoutInk);
          for (const line of lines) expect(displayWidth(line)).toBeLessThanOrEqual(width);
          for (const [first] of rows)
            expect(lines.join("").replace(/\s/gu, "")).toContain(first.slice(0, 10));
        },
      ),
    );
  });
});
