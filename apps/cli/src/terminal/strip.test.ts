import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { drawStrip, percent, type StripDrawing } from "./strip.ts";
import { chooseStyle, plainStyle } from "./style.ts";
import { displayWidth, withoutInk } from "./width.ts";

const sheet = { width: 80, style: plainStyle, ascii: false };

describe("drawStrip", () => {
  it("draws modules, junctions, the likely place, the measured ends and the next point", () => {
    const drawing: StripDrawing = {
      modules: 4,
      places: [
        { at: 1, probability: 0.9 },
        { at: 2 + 1 / 3, probability: 0.3 },
      ],
      measured: [0, 4],
      next: 2,
    };
    expect(drawStrip(drawing, sheet)).toEqual([
      "        90 %   30 %",
      "         █      ▃",
      "− ──•┤  ├█┤  ├•┤▒ ├•┤  ├•── +",
      "    0    1    2    3    4",
      "    │         ┊         │",
      "             next",
    ]);
  });

  it("shades the home run together with its end", () => {
    const lines = drawStrip({ modules: 2, places: [{ at: 0, probability: 0.6 }], measured: [] }, sheet);
    expect(lines).toContain("− ▓▓▓┤  ├•┤  ├•── +");
  });

  it("puts the two places inside a module of three sub-strings in columns of their own", () => {
    const places = [
      { at: 1 / 3, probability: 0.05 },
      { at: 2 / 3, probability: 0.95 },
    ];
    expect(drawStrip({ modules: 1, places, measured: [] }, sheet)).toContain("− ──•┤░█├•── +");
  });

  it("adds up places that share a column", () => {
    const places = Array.from({ length: 6 }, (_, n) => ({ at: (n + 1) / 7, probability: 1 / 6 }));
    // Six places on two columns of three each: one half on either.
    expect(drawStrip({ modules: 1, places, measured: [] }, sheet)).toContain("− ──•┤▓▓├•── +");
  });

  it("goes on in a second row of equal length, and draws each junction's probability once", () => {
    const lines = drawStrip({ modules: 26, places: [{ at: 13, probability: 1 }], measured: [] }, sheet);
    const rows = lines.filter((line) => line.includes("┤"));
    expect(rows).toHaveLength(2);
    expect(rows.map((line) => line.split("┤").length - 1)).toEqual([13, 13]);
    expect(rows.join("").split("█").length - 1).toBe(1);
  });

  it("draws modules narrower when two rows would not hold them in full", () => {
    const lines = drawStrip({ modules: 26, places: [], measured: [] }, { ...sheet, width: 60 });
    expect(lines.some((line) => line.includes("•══•══•"))).toBe(true);
  });

  it("uses plain ASCII when asked", () => {
    const drawing = { modules: 3, places: [{ at: 1, probability: 0.9 }], measured: [0], next: 2 };
    expect(drawStrip(drawing, { ...sheet, ascii: true }).join("\n")).toMatch(/^[\n -~]*$/u);
  });

  it("says the same with and without colour", () => {
    const drawing = { modules: 9, places: [{ at: 1, probability: 0.9 }], measured: [0, 9], next: 5 };
    const style = chooseStyle({ color: "always", isTerminal: false, environment: {} });
    const coloured = drawStrip(drawing, { ...sheet, style }).map((line) => withoutInk(line).trimEnd());
    expect(coloured).toEqual(drawStrip(drawing, sheet));
  });

  const drawings = fc.integer({ min: 1, max: 60 }).chain((modules) =>
    fc.record({
      modules: fc.constant(modules),
      places: fc.array(
        fc.record({
          at: fc.integer({ min: 0, max: 3 * modules }).map((third) => third / 3),
          probability: fc.double({ min: 0, max: 1, noNaN: true }),
        }),
        { maxLength: 8 },
      ),
      measured: fc.array(fc.integer({ min: 0, max: modules })),
      next: fc.integer({ min: 0, max: modules }),
    }),
  );

  it("never draws wider than the sheet, numbers every junction and shows every module once", () => {
    fc.assert(
      fc.property(drawings, fc.integer({ min: 40, max: 200 }), (drawing, width) => {
        const lines = drawStrip(drawing, { ...sheet, width });
        for (const line of lines) expect(displayWidth(line)).toBeLessThanOrEqual(width);
        const numbers = lines
          .filter((line) => /^[\d ]+$/u.test(line))
          .join(" ")
          .trim()
          .split(/ +/u);
        expect(numbers.map(Number)).toEqual(Array.from({ length: drawing.modules + 1 }, (_, n) => n));
        expect(lines.filter((line) => line.trim() === "next")).toHaveLength(1);
      }),
    );
  });

  it("stands the bar of a lone place straight above its ink", () => {
    fc.assert(
      fc.property(drawings, (drawing) => {
        const lone = { ...drawing, places: [{ at: drawing.next, probability: 1 }] };
        const columns = drawStrip(lone, sheet)
          .filter((line) => line.includes("█"))
          .map((line) => line.lastIndexOf("█"));
        expect(columns).toHaveLength(2);
        expect(columns[0]).toBeLessThanOrEqual(columns[1]!);
      }),
    );
  });
});

describe("percent", () => {
  it.each([
    { probability: 0, text: "<0.1 %" },
    { probability: 0.0004, text: "<0.1 %" },
    { probability: 0.012, text: "1.2 %" },
    { probability: 0.97, text: "97 %" },
    { probability: 0.996, text: "99.6 %" },
    { probability: 0.99999, text: ">99.9 %" },
  ])("writes $probability as $text", ({ probability, text }) => {
    expect(percent(probability)).toBe(text);
  });
});
