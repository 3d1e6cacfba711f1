import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { AlarmLoop, Inverter, Site } from "../assess/site.ts";
import { judgePath } from "../path/index.ts";
import { annunciator, tarn } from "../path/tarn.fixture.ts";
import { designLoop } from "./design-loop.ts";
import { chooseEndOfLine, smallestGap, supervisionBands } from "./end-of-line.ts";
import type { ContactRating, LoopChange, LoopDesign, LoopRequest } from "./loop-design.ts";

const contact = { voltage: 30, current: 1 } as unknown as ContactRating;

/** A sound loop that sounds when it loses current; cases spoil it. */
const sound = annunciator.loop!;

function request(spoil: object = {}, rating: object = contact): LoopRequest {
  return { loop: { ...sound, ...spoil }, contact: rating as ContactRating };
}

const partsChanged = (changes: readonly LoopChange[]): readonly string[] => changes.map(({ part }) => part);

const ferry = {
  supply: 12,
  supplyMinimum: 10.8,
  battery: 1.2,
  quiescentCurrent: 0.06,
  cable: { area: 0.5, class: 5, length: 30, temperature: 60 },
  load: { kind: "sounder", current: 0.75, minimumVoltage: 10, level: 98 },
  fuse: 3,
  sense: "energise-to-alarm",
  supervised: false,
};

/** Codes of what a judge of paths still finds wrong with the loop of a design, on the contact that drives it. */
function faultsOf(design: LoopDesign): readonly string[] {
  const { relay } = design;
  const dcRating = relay === null ? design.contact : { voltage: relay.contactV, current: relay.contactA };
  const site = {
    ...tarn,
    inverters: tarn.inverters.map(
      (inverter) => ({ ...inverter, relay: { dcRating } }) as unknown as Inverter,
    ),
  } as Site;
  const { findings } = judgePath({ ...annunciator, loop: design.loop }, { site, onDate: "2026-06-01" });
  const allowed = /SOUND|NOTICE|ANY_FAULT|QUIESCENT|LOAD_SILENT|LIGHT|LISTENER/;
  return findings
    .filter(({ severity, code }) => severity !== "note" && !allowed.test(code))
    .map(({ code }) => code);
}

describe("designLoop", () => {
  it("approves a sound loop as it is", () => {
    const design = designLoop(request());
    expect(design).toMatchObject({ approved: true, changes: [], unsolved: [], relay: null, endOfLine: null });
    // By hand: 10.5 V − 0.3 A · (2 · 60 m · 13.3 mΩ/m · (1 + 0.00393 · 30) + 0.1 Ω) = 9.935 V.
    expect(design.figures!.loadVoltage).toBeCloseTo(9.935, 3);
  });

  it("mends a loop that has everything wrong, and the judge then finds nothing wrong with it", () => {
    const design = designLoop({
      loop: ferry as unknown as AlarmLoop,
      contact: { ...contact, current: 0.5 } as ContactRating,
    });
    expect(partsChanged(design.changes)).toEqual(["cable", "relay", "end-of-line", "fuse", "battery"]);
    expect(design.unsolved).toEqual([]);
    expect(faultsOf(design)).toEqual([]);
    expect(design.parts.map(({ item }) => item)).toContain("interposing relay");
  });

  it.each<readonly [string, object, object, readonly string[]]>([
    ["the next cable size", { cable: { ...sound.cable, area: 0.5 } }, contact, ["cable"]],
    ["a diode", { load: { ...sound.load, kind: "relay", current: 0.05 } }, contact, ["diode"]],
    ["a relay for a lamp's inrush", { load: { ...sound.load, kind: "lamp" } }, contact, ["relay"]],
    ["a smaller fuse", { fuse: 2 }, contact, ["fuse"]],
    ["a larger fuse", { fuse: 0.25 }, contact, ["fuse"]],
    ["a battery", { battery: undefined }, contact, ["battery"]],
    ["a supervised line", { sense: "energise-to-alarm", supervised: false }, contact, ["end-of-line"]],
  ])("mends one fault by %s", (_, spoil, rating, parts) => {
    const design = designLoop(request(spoil, rating));
    expect(partsChanged(design.changes)).toEqual(parts);
    expect(design.unsolved).toEqual([]);
    expect(design.approved).toBe(false);
    expect(faultsOf(design)).toEqual([]);
  });

  it.each<readonly [string, object, RegExp]>([
    ["no cable is large enough", { load: { ...sound.load, minimumVoltage: 10.49 } }, /higher loop voltage/],
    [
      "the loop voltage is above the contact's",
      { supply: 48, supplyMinimum: 42 },
      /separate supply of at most 30 V/,
    ],
    ["a value is missing", { cable: undefined }, /Not stated: the cable run/],
    [
      "no usual relay makes the inrush",
      { load: { ...sound.load, kind: "lamp", current: 2 } },
      /No usual relay/,
    ],
  ])("says what no part mends where %s", (_, spoil, words) => {
    const design = designLoop(request(spoil));
    expect(design.approved).toBe(false);
    expect(design.unsolved.join(" ")).toMatch(words);
  });

  it("leaves nothing for the judge to find in any loop that it could mend", () => {
    const anyRequest = fc.record({
      supply: fc.constantFrom([12, 10.5], [24, 21]),
      battery: fc.constantFrom(undefined, 1.2, 7),
      quiescentCurrent: fc.double({ min: 0.001, max: 0.2, noNaN: true }),
      area: fc.constantFrom(0.5, 0.75, 1, 1.5, 2.5),
      length: fc.integer({ min: 1, max: 300 }),
      temperature: fc.integer({ min: -10, max: 80 }),
      kind: fc.constantFrom("sounder", "lamp", "relay", "beacon"),
      current: fc.double({ min: 0.01, max: 2, noNaN: true }),
      fuse: fc.constantFrom(undefined, 0.1, 0.5, 1, 5),
      sense: fc.constantFrom("energise-to-alarm", "de-energise-to-alarm", undefined),
      contactA: fc.constantFrom(0.1, 0.5, 1, 5),
    });
    let mended = 0;
    fc.assert(
      fc.property(anyRequest, ({ supply, area, length, temperature, kind, current, contactA, ...more }) => {
        const loop = {
          ...more,
          supply: supply[0],
          supplyMinimum: supply[1],
          cable: { area, class: 5, length, temperature },
          load: { kind, current, minimumVoltage: 0.75 * supply[0] },
        } as unknown as AlarmLoop;
        const design = designLoop({ loop, contact: { ...contact, current: contactA } as ContactRating });
        if (design.unsolved.length > 0) return;
        mended++;
        expect(faultsOf(design)).toEqual([]);
        const again = designLoop({
          loop: design.loop,
          contact: (design.relay === null
            ? design.contact
            : { voltage: design.relay.contactV, current: design.relay.contactA }) as ContactRating,
        });
        expect(again.changes).toEqual([]);
      }),
      { numRuns: 60 },
    );
    expect(mended).toBeGreaterThan(5);
  });
});

describe("end-of-line resistor", () => {
  const line = { lowestV: 10.5, highestV: 13.8, cableOhms: 2 };

  it("lies where the three bands are furthest apart for at most 5 mA", () => {
    const chosen = chooseEndOfLine(line)!;
    expect(chosen.gapV).toBeGreaterThan(0.5);
    for (const larger of [1.2 * chosen.ohms, 2 * chosen.ohms, 10 * chosen.ohms])
      expect(smallestGap(supervisionBands(larger, larger, line))).toBeLessThan(chosen.gapV);
    expect(line.highestV / (2 * chosen.ohms)).toBeLessThanOrEqual(0.005);
    expect(chosen.bands.map(({ state }) => state)).toEqual(["short", "normal", "open"]);
  });

  it("is none where the cable is as large as any resistor", () => {
    expect(chooseEndOfLine({ ...line, cableOhms: 1e6 })).toBeNull();
  });

  it("never gains by a longer cable or a wetter one", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 500, noNaN: true }),
        fc.double({ min: 1e3, max: 1e6, noNaN: true }),
        (ohms, leak) => {
          const gap = (cableOhms: number, leakOhms: number): number =>
            chooseEndOfLine({ ...line, cableOhms, leakOhms })?.gapV ?? 0;
          expect(gap(ohms + 10, leak)).toBeLessThanOrEqual(gap(ohms, leak) + 1e-12);
          expect(gap(ohms, leak / 2)).toBeLessThanOrEqual(gap(ohms, leak) + 1e-12);
        },
      ),
      { numRuns: 50 },
    );
  });
});
