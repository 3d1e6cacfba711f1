import { DIMENSIONS, formatQuantity } from "@earthbell/engine";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { displayWidth } from "./width.ts";
import { padEnd, padStart, wrap } from "./wrap.ts";

describe("wrap", () => {
  it.each([
    { text: "open the connector", columns: 10, lines: ["open the", "connector"], why: "breaks at spaces" },
    { text: "insulation", columns: 4, lines: ["insu", "lati", "on"], why: "cuts a word that cannot fit" },
    { text: "屋根の上", columns: 5, lines: ["屋根", "の上"], why: "never splits a wide character" },
    { text: "10.3\u00a0kΩ now", columns: 8, lines: ["10.3\u00a0kΩ", "now"], why: "keeps no-break spaces" },
    {
      text: "below 50 kΩ.",
      columns: 9,
      lines: ["below", "50 kΩ."],
      why: "keeps a number and its unit together",
    },
    {
      text: "(110 dB(A)), 3 m",
      columns: 14,
      lines: ["(110 dB(A)),", "3 m"],
      why: "knows a unit in brackets",
    },
    {
      text: "over 1250 MΩ·m²",
      columns: 8,
      lines: ["over", "1250", "MΩ·m²"],
      why: "parts them in a narrow column",
    },
    {
      text: "all 3 modules",
      columns: 6,
      lines: ["all 3", "module", "s"],
      why: "takes no other word for a unit",
    },
    { text: "one\ntwo", columns: 40, lines: ["one", "two"], why: "keeps line breaks" },
    { text: "", columns: 10, lines: [""], why: "an empty text is an empty line" },
    { text: "a  b", columns: 10, lines: ["a b"], why: "runs of spaces become one" },
  ])("$why", ({ text, columns, lines }) => {
    expect(wrap(text, columns)).toEqual(lines);
  });

  it("never parts a quantity of the engine, wherever the line ends", () => {
    const printed = fc
      .tuple(fc.constantFrom(...DIMENSIONS), fc.double({ min: 1e-3, max: 1e9, noNaN: true }))
      .map(([dimension, value]) => formatQuantity(value as never, dimension));
    const after = fc.constantFrom("", ".", ",", ")", ";", ":", "…", "”");
    const filling = fc.array(fc.constantFrom("insulation", "of", "an", "array", "10", "3"), {
      maxLength: 12,
    });
    fc.assert(
      fc.property(
        fc.tuple(filling, printed, after, filling, fc.integer({ min: 24, max: 80 })),
        ([before, figure, sign, more, columns]) => {
          const lines = wrap([...before, `${figure}${sign}`, ...more].join(" "), columns);
          expect(lines.filter((line) => line.includes(`${figure}${sign}`))).not.toEqual([]);
        },
      ),
    );
  });

  it("never makes a line wider than asked, and loses no letter", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), fc.integer({ min: 2, max: 60 }), (text, columns) => {
        const lines = wrap(text, columns);
        for (const line of lines) expect(displayWidth(line)).toBeLessThanOrEqual(columns);
        expect(lines.join("").replace(/[ \t\n]/gu, "")).toBe(text.replace(/[ \t\n]/gu, ""));
      }),
    );
  });
});

describe("padding", () => {
  it("counts columns, not code units", () => {
    expect(padEnd("屋根", 6)).toBe("屋根  ");
    expect(padStart("Ω", 3)).toBe("  Ω");
    expect(padEnd("too long", 3)).toBe("too long");
  });
});
