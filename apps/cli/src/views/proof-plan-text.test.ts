import type { ProofPlan, Site } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import { plainStyle } from "../terminal/style.ts";
import { displayWidth } from "../terminal/width.ts";
import { proofPlanText } from "./proof-plan-text.ts";

const step = { id: "s", warnings: [], expected: [], leftOut: null } as const;
const plan: ProofPlan = {
  format: "earthbell.proof-plan/1",
  site: "mill",
  proofs: [
    {
      path: "P1",
      array: "A1",
      stopWhen: [{ text: "anything arcs", source: "rule", tag: "design choice" }],
      steps: [
        {
          ...step,
          do: "Measure the string.",
          cautions: ["light-is-supply"],
          requires: ["instrument-proved"],
          expected: [
            { text: "string S1", value: 532, dimension: "voltage", source: "arithmetic", tag: "computed" },
          ],
        },
        { ...step, do: "Measure again.", cautions: ["light-is-supply"], requires: [] },
        { ...step, do: "Wire the resistor.", cautions: [], requires: [], leftOut: "One pole is earthed." },
      ],
    },
  ],
};
const site = { id: "mill", place: { country: "AU" } } as Site;
const drawn = (width: number): string =>
  proofPlanText({ plan, site }, { width, ascii: false, style: plainStyle })
    .join("\n")
    .replaceAll("\u00a0", " ");

describe("proofPlanText", () => {
  it("puts when to stop first, and cautions and records before their step and what it should show after", () => {
    const text = drawn(80);
    const order = [
      "anything arcs",
      "Light is the supply",
      "Only when each of these is recorded",
      "1. Measure the string.",
      "expect string S1: 532 V",
      "As before: light is supply",
      "2. Measure again.",
    ].map((words) => text.indexOf(words));
    expect(order.every((at) => at >= 0)).toBe(true);
    expect([...order].sort((a, b) => a - b)).toEqual(order);
  });

  it("keeps a step that is left out in sight, with the reason", () => {
    expect(drawn(80)).toMatch(/3\. Left out: Wire the resistor\.\n +- One pole is earthed\./u);
  });

  it.each([40, 60, 80, 100, 120])("fits %i columns", (width) => {
    expect(Math.max(...drawn(width).split("\n").map(displayWidth))).toBeLessThanOrEqual(width);
  });
});
