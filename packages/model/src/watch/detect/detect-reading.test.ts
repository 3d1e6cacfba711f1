import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { MINUTE } from "../time/span.ts";
import type { WatchReading } from "../reading.ts";
import { bit, insulation, readingOf, takeAll, TARN, words } from "./array.fixture.ts";
import { detectReading } from "./detect-reading.ts";
import { forgetDevice, newDetectorState } from "./detector-state.ts";

/** 07:12 in Melbourne. */
const DAWN = Date.UTC(2026, 5, 1, 21, 12);
const later = (minutes: number): number => DAWN + minutes * MINUTE;

describe("the earth-fault bit", () => {
  it.each<[string, WatchReading[], string[][]]>([
    ["set once is set once", [bit(DAWN, true), bit(later(1), true)], [["set earth-fault-bit"], []]],
    [
      "cleared is cleared",
      [bit(DAWN, true), bit(later(1), false)],
      [["set earth-fault-bit"], ["cleared earth-fault-bit"]],
    ],
    ["clear from the start says nothing", [bit(DAWN, false)], [[]]],
    [
      "of two devices is active until both are clear",
      [
        bit(DAWN, true, "INV1"),
        bit(later(1), true, "INV2"),
        bit(later(2), false, "INV1"),
        bit(later(3), false, "INV2"),
      ],
      [["set earth-fault-bit"], [], [], ["cleared earth-fault-bit"]],
    ],
    [
      "is not cleared by another device that never saw it",
      [bit(DAWN, true, "INV1"), bit(later(1), false, "INV2")],
      [["set earth-fault-bit"], []],
    ],
    [
      "late and cleared since is on record as both",
      [bit(later(5), false), bit(DAWN, true)],
      [[], ["set earth-fault-bit", "cleared earth-fault-bit"]],
    ],
    ["late and clear clears nothing", [bit(later(5), true), bit(DAWN, false)], [["set earth-fault-bit"], []]],
    [
      "at one instant both set and clear is set",
      [bit(DAWN, false), bit(DAWN, true)],
      [[], ["set earth-fault-bit"]],
    ],
    [
      "at one instant both, the other way round, is set",
      [bit(DAWN, true), bit(DAWN, false)],
      [["set earth-fault-bit"], []],
    ],
  ])("%s", (_, readings, expected) => {
    expect(takeAll(readings).signs.map(words)).toEqual(expected);
  });

  it.each(["stale", "implausible", "not-implemented"] as const)(
    "that is %s neither raises nor clears",
    (quality) => {
      const raised = takeAll([{ ...bit(DAWN, true), quality }]);
      expect(raised.signs).toEqual([[]]);
      expect(raised.state).toEqual(newDetectorState("tarn", "A1"));
      const kept = takeAll([bit(DAWN, true), { ...bit(later(1), false), quality, value: null }]);
      expect(kept.signs.map(words)).toEqual([["set earth-fault-bit"], []]);
      expect(kept.state.levels[0]?.active).toBe(true);
    },
  );

  it("of a device that is taken away stays until the device is forgotten", () => {
    const { state } = takeAll([bit(DAWN, true)]);
    expect(state.levels).toHaveLength(1);
    expect(forgetDevice(state, "INV1").levels).toEqual([]);
    expect(forgetDevice(state, "INV2").levels).toHaveLength(1);
  });
});

describe("a residual-current trip and readings that decide nothing", () => {
  it("is a sign of its own", () => {
    const trip = { kind: "residual-trip", unit: "bit" } as const;
    const readings = [
      readingOf({ at: DAWN, ...trip, value: true }),
      readingOf({ at: later(1), ...trip, value: false }),
    ];
    expect(takeAll(readings).signs.map(words)).toEqual([["set residual-trip"], ["cleared residual-trip"]]);
  });

  it.each<Partial<WatchReading>>([
    { kind: "residual-current", unit: "ampere", value: 0.4 },
    { kind: "device-state", unit: "word", value: "fault" },
    { kind: "heartbeat", unit: "none", value: true },
  ])("%o is kept on record only", (change) => {
    const detection = detectReading(newDetectorState("tarn", "A1"), readingOf({ at: DAWN, ...change }), TARN);
    expect(detection.signs).toEqual([]);
    expect(detection.decisions.map(({ sign }) => sign)).toEqual([null]);
  });
});

describe("insulation against its threshold of 30 kΩ, back from 37.5 kΩ", () => {
  const low = "set insulation-low";
  const back = "cleared insulation-low";

  it.each<[string, number[], string[][]]>([
    ["29 999 Ω is below it", [29_999], [[low]]],
    ["30 000 Ω is not below it", [30_000], [[]]],
    ["37 499 Ω is not back", [20_000, 37_499], [[low], []]],
    ["37 500 Ω is back", [20_000, 37_500], [[low], [back]]],
    ["between the two nothing flaps", [20_000, 31_000, 29_000, 36_000], [[low], [], [], []]],
    ["between the two nothing begins", [40_000, 31_000, 36_000], [[], [], []]],
    ["a dead short is below it", [0], [[low]]],
  ])("%s", (_, values, expected) => {
    const readings = values.map((ohms, at) => insulation(later(at), ohms));
    expect(takeAll(readings).signs.map(words)).toEqual(expected);
  });

  it("says the figures and the tag of every limit it went by", () => {
    const { decisions } = detectReading(newDetectorState("tarn", "A1"), insulation(DAWN, 20_000), TARN);
    expect(decisions[0]!.reason.text).toBe("Insulation 20 kΩ is below the threshold of 30 kΩ.");
    expect(decisions[0]!.reason.figures).toEqual({ ohms: 20_000, thresholdOhms: 30_000, returnOhms: 37_500 });
    expect(decisions[0]!.reason.limits.map(({ name, tag }) => [name, tag])).toEqual([
      ["insulationThreshold", "memory"],
      ["insulationReturnRatio", "design choice"],
    ]);
  });

  it.each([
    [37_499, "Insulation 37.499 kΩ has not reached 37.5 kΩ, at which a low insulation counts as back."],
    [37_500, "Insulation 37.5 kΩ has reached 37.5 kΩ, at which a low insulation counts as back."],
  ])("says of %i Ω whether it counts as back", (ohms, text) => {
    const { state } = takeAll([insulation(DAWN, 20_000)]);
    expect(detectReading(state, insulation(later(1), ohms), TARN).decisions[0]!.reason.text).toBe(text);
  });

  it("cannot be told without a threshold, and clears nothing then", () => {
    const unknown = { ...TARN, insulationThreshold: null };
    const { state } = takeAll([insulation(DAWN, 20_000)]);
    const { decisions, signs, state: kept } = detectReading(state, insulation(later(1), 1e6), unknown);
    expect(decisions[0]!.change).toBe("cannot-tell");
    expect(signs).toEqual([]);
    expect(kept.levels[0]).toMatchObject({ active: true, at: later(1) });
  });
});

const someReading = fc
  .record({
    minute: fc.integer({ min: 0, max: 60 * 24 * 12 }),
    kind: fc.constantFrom("bit" as const, "insulation" as const),
    active: fc.boolean(),
    ohms: fc.constantFrom(0, 20_000, 29_999, 30_000, 34_000, 37_500, 1e6, 2e7),
    device: fc.constantFrom("INV1", "INV2"),
    good: fc.integer({ min: 0, max: 9 }).map((roll) => roll > 0),
  })
  .map(({ minute, kind, active, ohms, device, good }): WatchReading => {
    const reading =
      kind === "bit" ? bit(later(minute), active, device) : insulation(later(minute), ohms, device);
    return good ? reading : { ...reading, quality: "stale" };
  });

describe("whatever order readings come in", () => {
  const bits = fc
    .uniqueArray(
      fc.record({
        minute: fc.integer({ min: 0, max: 500 }),
        active: fc.boolean(),
        device: fc.constantFrom("INV1", "INV2"),
      }),
      {
        minLength: 1,
        maxLength: 12,
        selector: ({ minute, device }) => `${String(minute)} ${device}`,
      },
    )
    .map((rows) => rows.map(({ minute, active, device }) => bit(later(minute), active, device)));

  it("the bits end at the same levels, and a fault that was there is raised", () => {
    fc.assert(
      fc.property(
        bits.chain((rows) =>
          fc.tuple(fc.constant(rows), fc.shuffledSubarray(rows, { minLength: rows.length })),
        ),
        ([rows, shuffled]) => {
          const inOrder = [...rows].sort((one, other) => one.at - other.at);
          const [straight, mixed] = [takeAll(inOrder), takeAll(shuffled)];
          const levels = (of: typeof straight) =>
            of.state.levels
              .map(({ device, active, at }) => `${device} ${String(active)} ${String(at)}`)
              .sort();
          expect(levels(mixed)).toEqual(levels(straight));
          const raised = mixed.signs
            .flat()
            .some(({ sign, change }) => sign === "earth-fault-bit" && change === "set");
          expect(raised).toBe(rows.some(({ value }) => value === true));
        },
      ),
    );
  });

  it("a reading taken a second time leaves the state alone", () => {
    fc.assert(
      fc.property(fc.array(someReading, { maxLength: 20 }), someReading, (before, reading) => {
        const once = takeAll([...before, reading]).state;
        const twice = detectReading(once, reading, TARN);
        expect(twice.state).toEqual(once);
      }),
    );
  });

  it("a state that went through JSON decides the same", () => {
    fc.assert(
      fc.property(fc.array(someReading, { maxLength: 20 }), someReading, (before, reading) => {
        const { state } = takeAll(before);
        const restored = JSON.parse(JSON.stringify(state)) as typeof state;
        expect(detectReading(restored, reading, TARN)).toEqual(detectReading(state, reading, TARN));
      }),
    );
  });
});
