import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type Drawing,
  drawChain,
  drawCoverageGrid,
  drawNoticeCurve,
  drawStrip,
  hoursWords,
  type Mark,
  svgText,
} from "./index.ts";
import type { NoticeAnswer } from "../notice/index.ts";
import type { CoverageMap } from "../detector-coverage/index.ts";

function marksOf(drawing: Drawing): readonly Mark[] {
  const inside = (mark: Mark): Mark[] => [
    mark,
    ...mark.children.flatMap((child) => (typeof child === "string" ? [] : inside(child))),
  ];
  return drawing.marks.flatMap(inside);
}

const textsOf = (drawing: Drawing): string[] =>
  marksOf(drawing)
    .filter(({ tag }) => tag === "text")
    .map(({ children }) => children.filter((child) => typeof child === "string").join(""));

const strip = {
  id: "S1",
  modules: 20,
  places: [
    {
      string: "S1",
      at: 7,
      what: "junction" as const,
      label: "S1: connectors between modules 7 and 8",
      probability: 0.9,
    },
    { string: "S1", at: 8.5, what: "module" as const, label: "S1: inside module 9", probability: 0.1 },
  ],
  leads: [
    { at: 0, number: 1 },
    { at: 0, number: 2 },
    { at: 20, number: 3 },
  ],
  proposed: [7],
  handAt: 7.1,
  width: 640,
};

describe("a string drawn as a strip", () => {
  it("has one outlined rectangle a module and one dot a junction, ends included", () => {
    const marks = marksOf(drawStrip(strip));
    const outlined = marks.filter(({ tag, attributes }) => tag === "rect" && attributes["fill"] === "none");
    const dots = marks.filter(({ tag, attributes }) => tag === "circle" && attributes["fill"] !== "none");
    expect(outlined).toHaveLength(20);
    expect(dots).toHaveLength(21);
  });

  it("puts the bar of a place where the place is: junction 7 of 20 at seven twentieths of the row", () => {
    const marks = marksOf(drawStrip(strip));
    const outlined = marks.filter(({ tag, attributes }) => tag === "rect" && attributes["fill"] === "none");
    const centre = ({ attributes }: Mark): number =>
      Number(attributes["x"]) + Number(attributes["width"]) / 2;
    const [first, last] = [centre(outlined[0]!), centre(outlined.at(-1)!)];
    const pitch = (last - first) / 19;
    const junction = first + 6.5 * pitch;
    const bars = marks.filter(({ tag, attributes }) => tag === "rect" && Number(attributes["width"]) < 10);
    expect(Math.min(...bars.map((bar) => Math.abs(centre(bar) - junction)))).toBeLessThan(0.2);
  });

  it("says the likeliest place and its percentage in the title and lists every place in the table", () => {
    const drawing = drawStrip(strip);
    expect(drawing.title).toContain("connectors between modules 7 and 8, 90\u00a0%");
    expect(drawing.table.rows).toHaveLength(2);
    expect(textsOf(drawing)).toContain("90\u00a0%");
  });

  it("names readings at one point by their span", () => {
    expect(textsOf(drawStrip(strip))).toContain("1–2");
  });

  it("keeps every mark inside the drawing at any width and length", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 200 }),
        fc.integer({ min: 1, max: 2000 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (modules, width, share) => {
          const at = Math.round(share * modules * 3) / 3;
          const place = { string: "S1", at, what: "module" as const, label: "there", probability: 1 };
          const drawing = drawStrip({
            ...strip,
            modules,
            width,
            places: [place],
            proposed: [],
            leads: [],
            handAt: null,
          });
          for (const { attributes } of marksOf(drawing))
            for (const [name, limit] of [
              ["x", drawing.width],
              ["cx", drawing.width],
              ["y", drawing.height],
              ["cy", drawing.height],
            ] as const)
              if (attributes[name] !== undefined) {
                expect(Number(attributes[name])).toBeGreaterThanOrEqual(0);
                expect(Number(attributes[name])).toBeLessThanOrEqual(limit);
              }
        },
      ),
    );
  });
});

describe("a path drawn as a chain", () => {
  const chain = {
    title: "Path P1",
    links: [
      { kind: "array" as const, name: "A1", details: [] },
      { kind: "detector" as const, name: "INV1", details: [] },
      { kind: "message" as const, name: "P1", details: [] },
      { kind: "person" as const, name: "owner", details: [] },
    ],
    joints: [
      { state: "proven" as const, words: "2026-02-03" },
      { state: "unproven" as const, words: "" },
      { state: "silent" as const, words: "since 04:00" },
    ],
    weakest: { link: 2, mend: "add a second address" },
  };

  it.each([390, 900])("tells every state in words as well as in strokes at a width of %d", (width) => {
    const drawing = drawChain({ ...chain, width });
    const texts = textsOf(drawing).join(" | ");
    for (const word of [
      "proven",
      "not proven",
      "silent",
      "2026-02-03",
      "since 04:00",
      "add a second address",
    ])
      expect(texts).toContain(word);
    const dashed = marksOf(drawing).filter(({ attributes }) => attributes["stroke-dasharray"] !== undefined);
    expect(dashed).toHaveLength(1);
  });

  it.each([320, 900])("folds what would mend the weakest link inside a width of %d", (width) => {
    const mend =
      "name at least two people who read messages, each with an address of their own, and repeat hourly";
    const drawing = drawChain({ ...chain, weakest: { link: 3, mend }, width });
    const lines = textsOf(drawing).filter((text) => mend.includes(text.replace("weakest: ", "")));
    expect(lines.join(" ")).toBe(`weakest: ${mend}`);
    expect(lines.length).toBeGreaterThan(1);
  });

  it("stands upright on a narrow page", () => {
    expect(drawChain({ ...chain, width: 390 }).height).toBeGreaterThan(
      drawChain({ ...chain, width: 900 }).height,
    );
  });
});

const answer: NoticeAnswer = {
  channels: ["P1"],
  curve: [
    { hours: 0, unnoticed: 1 },
    { hours: 5, unnoticed: 0.5 },
    { hours: 672, unnoticed: 0.01 },
  ],
  medianHours: 5,
  p95Hours: null,
  unnoticedAfter24h: 0.2,
  unnoticedAfter7d: 0.05,
  unnoticedAfter28d: 0.01,
  meanHours: 20,
};

describe("the time to notice drawn as a curve", () => {
  it("drops a line at the median and none where 95 % are never reached", () => {
    const texts = textsOf(drawNoticeCurve({ title: "T", answers: [{ name: "P1", answer }], width: 600 }));
    expect(texts).toContain("half within 5 h");
    expect(texts.some((text) => text.startsWith("95 %"))).toBe(false);
  });

  it.each([
    [0.5, "30 min"],
    [5.04, "5 h"],
    [30, "30 h"],
    [72, "3 days"],
  ])("%d hours are said as %s", (hours, said) => {
    expect(hoursWords(hours)).toBe(said);
  });
});

describe("detector coverage drawn as a grid", () => {
  const map: CoverageMap = {
    positions: [0, 1, 2],
    faultOhms: [1, 1000],
    cells: {
      night: [0, 1, 2].map(() => [
        { soon: "next-start", by: ["insulation-start"] },
        { soon: "never", by: [] },
      ]),
      running: [0, 1, 2].map(() => [
        { soon: "at-once", by: ["residual"] },
        { soon: "never", by: [] },
      ]),
    },
    shares: {
      night: { "at-once": 0, "next-start": 0.5, never: 0.5 },
      running: { "at-once": 0.5, "next-start": 0, never: 0.5 },
    },
    blindPositions: [],
  };

  it("has a row of the table for every position, and its three shares make a whole", () => {
    const { table } = drawCoverageGrid({ title: "Coverage", map, phase: "night", width: 500 });
    expect(table.rows).toHaveLength(3);
    for (const [, ...parts] of table.rows)
      expect(parts.reduce((sum, part) => sum + Number.parseInt(part, 10), 0)).toBe(100);
  });
});

describe("a drawing as an SVG document", () => {
  it("escapes what a file may have put into a name, and holds no style, script or reference", () => {
    const text = svgText(drawStrip({ ...strip, id: '<script x="&">' }));
    expect(text).toContain("&lt;script x=&quot;&amp;&quot;&gt;");
    expect(text).not.toMatch(/<script|style=|href=/u);
  });
});
