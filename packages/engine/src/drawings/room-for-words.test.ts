import { describe, expect, it } from "vitest";
import { drawHistory, readHistory } from "../history/index.ts";
import { simulateHistory } from "../history/simulate/index.ts";
import { coverageMap } from "../detector-coverage/index.ts";
import type { NoticeAnswer } from "../notice/index.ts";
import { type Drawing, drawChain, drawCoverageGrid, drawNoticeCurve } from "./index.ts";

/** Width of a character of the widest face that drawings are set in, as a share of its size. */
const CHARACTER = 0.55;

interface Words {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly baseline: number;
  readonly size: number;
}

function wordsOf({ marks }: Drawing): readonly Words[] {
  return marks
    .filter(({ tag }) => tag === "text")
    .map(({ attributes, children }) => {
      const text = children.filter((child) => typeof child === "string").join("");
      const size = Number(attributes["font-size"]);
      const width = text.length * size * CHARACTER;
      const x = Number(attributes["x"]);
      const anchor = attributes["text-anchor"];
      const left = anchor === "end" ? x - width : anchor === "middle" ? x - width / 2 : x;
      return { text, left, right: left + width, baseline: Number(attributes["y"]), size };
    });
}

function expectRoom(drawing: Drawing): void {
  const all = wordsOf(drawing);
  for (const one of all) {
    expect(one.left, one.text).toBeGreaterThanOrEqual(0);
    expect(one.right, one.text).toBeLessThanOrEqual(drawing.width);
    for (const other of all.filter((each) => each !== one)) {
      const beside = one.right <= other.left || other.right <= one.left;
      const apart = Math.abs(one.baseline - other.baseline) >= 0.75 * Math.min(one.size, other.size);
      expect(beside || apart, `${one.text} on ${other.text}`).toBe(true);
    }
  }
}

/** Falls from one to nothing about a time, the gentler the smaller the steepness. */
function falling(medianHours: number, steepness: number): NoticeAnswer {
  const hours = Array.from({ length: 120 }, (_, i) => 0.1 * 6720 ** (i / 119));
  const unnoticed = (at: number): number => 1 / (1 + (at / medianHours) ** steepness);
  const p95Hours = medianHours * 19 ** (1 / steepness);
  return {
    channels: ["P1"],
    curve: hours.map((at) => ({ hours: at, unnoticed: unnoticed(at) })),
    medianHours,
    p95Hours: p95Hours < 672 ? p95Hours : null,
    unnoticedAfter24h: unnoticed(24),
    unnoticedAfter7d: unnoticed(168),
    unnoticedAfter28d: unnoticed(672),
    meanHours: medianHours,
  };
}

const WIDTHS = [260, 300, 320, 360, 420, 480, 560, 672, 900];
const CURVES = [0.5, 4, 12, 30, 200].flatMap((median) =>
  [0.8, 2, 6].map((steep) => [median, steep] as const),
);

describe("words in a drawing", () => {
  it.each(WIDTHS)("of a time to notice %i wide stay inside it, and off each other", (width) => {
    for (const [median, steepness] of CURVES)
      expectRoom(
        drawNoticeCurve({ title: "T", answers: [{ name: "P1", answer: falling(median, steepness) }], width }),
      );
  });

  it.each(WIDTHS)("of a coverage grid %i wide stay inside it, and off each other", (width) => {
    const map = coverageMap(
      {
        modulesPerString: 12,
        strings: 2,
        moduleOpenV: 40,
        moduleRunningV: 33,
        earthing: { kind: "floating" },
      },
      { insulation: { thresholdOhms: 40_000, at: ["start"] } },
    );
    expectRoom(drawCoverageGrid({ title: "T", map, phase: "running", width }));
  });

  it.each(WIDTHS)("that say when faults are known stand above every curve, %i wide", (width) => {
    for (const [median, steepness] of CURVES) {
      const drawing = drawNoticeCurve({
        title: "T",
        answers: [
          { name: "both", answer: falling(median, steepness) },
          { name: "P2", answer: falling(4 * median, 0.8) },
        ],
        width,
      });
      expectRoom(drawing);
      const labels = wordsOf(drawing).filter(({ text }) => text.includes(" within "));
      expect(labels.length).toBeGreaterThan(0);
      for (const label of labels)
        for (const [x, y] of curvesOf(drawing))
          if (x >= label.left && x <= label.right) expect(y).toBeGreaterThan(label.baseline);
    }
  });
});

/** Points of every curve of a drawing. */
function curvesOf({ marks }: Drawing): readonly (readonly [number, number])[] {
  return marks
    .filter(({ tag }) => tag === "path")
    .flatMap(({ attributes }) => String(attributes["d"]).slice(1).split(" L"))
    .map((point) => point.split(" ").map(Number) as [number, number]);
}

describe("words in the drawing of a history", () => {
  const { readings } = simulateHistory({
    ...{ trouble: "moisture-driven", seed: 3, firstDay: 19_000, days: 800, offsetMin: 0 },
  });
  const threshold = { value: 40_000, source: "test", tag: "user" } as const;
  const read = readHistory({ array: "A1", readings }, { timezone: "UTC", threshold });

  it.each(WIDTHS)("at %i wide stay inside it, and off each other", (width) => {
    expectRoom(drawHistory(read, width));
  });
});

describe("a chain of long names", () => {
  const long = "Carpenter-on-the-far-side-of-the-island";
  const joint = { state: "proven", words: "2026-02-03" } as const;
  const drawing = drawChain({
    title: "Path P1",
    links: [
      { kind: "array", name: `${long}, ${long}`, details: [] },
      { kind: "detector", name: "INV1", details: ["insulation check", "residual current"] },
      { kind: "message", name: "P1", details: ["message"] },
      {
        kind: "person",
        name: "9 people",
        details: [Array.from({ length: 9 }, (_, i) => `${long}${i}`).join(", ")],
      },
    ],
    joints: [joint, joint, joint],
    weakest: null,
    width: 700,
  });

  it("keeps each under its symbol and off the edge", () => {
    expectRoom(drawing);
  });

  it("tells them whole in its table", () => {
    expect(JSON.stringify(drawing.table)).toContain(`${long}8`);
  });
});
