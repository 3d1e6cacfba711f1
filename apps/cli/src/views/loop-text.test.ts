import { type LoopReport, loopReport, type Site } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import { plainStyle } from "../terminal/style.ts";
import { displayWidth } from "../terminal/width.ts";
import { loopText } from "./loop-text.ts";

/** A siren on thin wire, with a contact too weak for it. */
const site = {
  id: "mill",
  place: { country: "AU" },
  modules: [{ id: "M", pmax: 260, voc: 38 }],
  inverters: [{ id: "I", ratedPower: 5000, relay: { dcRating: { voltage: 30, current: 0.5 } } }],
  arrays: [{ id: "A1", inverter: "I", module: "M", strings: [{ id: "S1", modules: 10 }] }],
  people: [],
  proofs: [],
  paths: [
    { id: "P1", arrays: ["A1"], signal: "indicator" },
    {
      id: "P2",
      arrays: ["A1"],
      signal: "annunciator",
      loop: {
        supply: 12,
        supplyMinimum: 10.8,
        battery: 1.2,
        quiescentCurrent: 0.06,
        cable: { area: 0.5, class: 5, length: 90, temperature: 60 },
        load: { kind: "sounder", current: 0.75, minimumVoltage: 10, level: 98 },
        fuse: 3,
        sense: "energise-to-alarm",
        supervised: false,
      },
    },
  ],
} as unknown as Site;

const drawn = (report: LoopReport, width = 80): string =>
  loopText({ report, site }, { width, ascii: false, style: plainStyle }).join("\n").replaceAll("\u00a0", " ");

describe("loopText", () => {
  it("numbers what is wrong, then says what to change, then the figures, then the parts", () => {
    const text = drawn(loopReport(site));
    const order = ["1. ", "2. ", "Change:", "Figures,", "Parts, by rating:"].map((word) =>
      text.indexOf(word),
    );
    expect(order.every((at) => at >= 0)).toBe(true);
    expect([...order].sort((a, b) => a - b)).toEqual(order);
    expect(text).toMatch(/Load +.* as given, .* as designed/u);
    expect(text).toContain("without a loop: P1");
  });

  it("says that a site has no annunciator, and what is missing where nothing can be designed", () => {
    expect(drawn(loopReport(site, "P1"))).toContain("No path of this site is an annunciator");
    const inverters = site.inverters.map(({ id, ratedPower }) => ({ id, ratedPower }));
    const text = drawn(loopReport({ ...site, inverters }));
    expect(text).toMatch(/cannot be designed yet[\s\S]*missing: inverters I: relay.dcRating/u);
  });

  it.each([40, 60, 80, 100, 120])("fits %i columns", (width) => {
    const lines = drawn(loopReport(site), width).split("\n");
    expect(Math.max(...lines.map(displayWidth))).toBeLessThanOrEqual(width);
  });
});
