import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { arraysConcerned, checkReading, datedByArrival, type WatchReading } from "./reading.ts";

const AT = Date.UTC(2026, 5, 1, 5, 12);
const sound: WatchReading = {
  site: "tarn",
  array: "A1",
  device: "INV1",
  at: AT,
  kind: "insulation",
  value: 185_000,
  unit: "ohm",
  quality: "good",
  source: "sunspec",
  key: "tarn/INV1/122/1",
};

describe("a reading at the door", () => {
  it.each<[string, object]>([
    ["insulation in ohms", {}],
    ["insulation of zero, a dead short", { value: 0 }],
    ["no array, where the device does not tell them apart", { array: undefined }],
    ["a bit that is set", { kind: "earth-fault-bit", unit: "bit", value: true }],
    [
      "a bit that the device does not offer",
      { kind: "earth-fault-bit", unit: "bit", value: null, quality: "not-implemented" },
    ],
    ["a stale value that is still shown", { quality: "stale" }],
    ["residual current", { kind: "residual-current", unit: "ampere", value: 0.03 }],
    ["a device state", { kind: "device-state", unit: "word", value: "fault" }],
    ["the first instant of 2000", { at: Date.UTC(2000, 0, 1) }],
    ["the last instant of 2199", { at: Date.UTC(2200, 0, 1) - 1 }],
    ["a heartbeat", { kind: "heartbeat", unit: "none", value: true }],
  ])("is taken: %s", (_, change) => {
    expect(checkReading({ ...sound, ...change })).toEqual({ ok: true, reading: { ...sound, ...change } });
  });

  it.each<[string, unknown, string, string]>([
    ["a text instead of a record", "x", "READING_RECORD_INVALID", ""],
    ["a list", [sound], "READING_RECORD_INVALID", ""],
    ["a misspelt field", { ...sound, quallity: "good" }, "READING_FIELD_UNKNOWN", "quallity"],
    ["no site", { ...sound, site: undefined }, "READING_NAME_INVALID", "site"],
    ["a blank key", { ...sound, key: "  " }, "READING_NAME_INVALID", "key"],
    ["a control character in a name", { ...sound, device: "INV\u0000" }, "READING_NAME_INVALID", "device"],
    ["a name of 201 characters", { ...sound, array: "a".repeat(201) }, "READING_NAME_INVALID", "array"],
    ["seconds for milliseconds", { ...sound, at: AT / 1000 }, "READING_INSTANT_INVALID", "at"],
    ["an instant that is no number", { ...sound, at: NaN }, "READING_INSTANT_INVALID", "at"],
    [
      "the last instant before the year 2000",
      { ...sound, at: Date.UTC(2000, 0, 1) - 1 },
      "READING_INSTANT_INVALID",
      "at",
    ],
    ["the year 2200", { ...sound, at: Date.UTC(2200, 0, 1) }, "READING_INSTANT_INVALID", "at"],
    ["half a millisecond", { ...sound, at: AT + 0.5 }, "READING_INSTANT_INVALID", "at"],
    ["an unknown kind", { ...sound, kind: "toString" }, "READING_KIND_UNKNOWN", "kind"],
    ["an unknown quality", { ...sound, quality: "fine" }, "READING_QUALITY_UNKNOWN", "quality"],
    ["kilohms", { ...sound, unit: "kilohm" }, "READING_UNIT_WRONG", "unit"],
    ["negative insulation", { ...sound, value: -1 }, "READING_VALUE_INVALID", "value"],
    ["infinite insulation", { ...sound, value: Infinity }, "READING_VALUE_INVALID", "value"],
    ["a good reading without a value", { ...sound, value: null }, "READING_VALUE_INVALID", "value"],
    [
      "a bit as a number",
      { ...sound, kind: "residual-trip", unit: "bit", value: 1 },
      "READING_VALUE_INVALID",
      "value",
    ],
  ])("is refused: %s", (_, input, code, field) => {
    const result = checkReading(input);
    expect(result.ok ? [] : result.refusals.map((one) => [one.code, one.field])).toEqual([[code, field]]);
  });

  it("names all faults at once", () => {
    const result = checkReading({
      at: "now",
      kind: "insulation",
      value: "x",
      unit: "V",
      quality: 3,
      more: {},
    });
    expect(result.ok ? [] : result.refusals.map(({ field }) => field)).toEqual([
      "more",
      "site",
      "device",
      "source",
      "key",
      "at",
      "quality",
      "unit",
      "value",
    ]);
  });

  it("never throws, whatever arrives", () => {
    fc.assert(
      fc.property(
        fc.anything({ withBigInt: true, withDate: true, withMap: true, withNullPrototype: true }),
        (input) => {
          const result = checkReading(input);
          expect(result.ok || result.refusals.length > 0).toBe(true);
        },
      ),
    );
  });
});

describe("the instant of a reading", () => {
  it.each([
    [AT - 86_400_000, AT - 86_400_000, false, "a day late keeps its instant"],
    [AT + 5 * 60_000, AT + 5 * 60_000, false, "five minutes ahead is what clocks do"],
    [AT + 5 * 60_000 + 1, AT, true, "further ahead is dated by its arrival"],
  ])("measured %i, kept as %i, note %s: %s", (measuredAt, keptAt, noted) => {
    const { reading, note } = datedByArrival({ ...sound, at: measuredAt }, AT);
    expect([reading.at, note !== null]).toEqual([keptAt, noted]);
  });
});

describe("the arrays that a reading speaks of", () => {
  const arrays = [
    { array: "A1", device: "INV1" },
    { array: "A2", device: "INV1" },
    { array: "A3", device: "INV2" },
  ];
  const unnamed = { ...sound, array: undefined } as unknown as WatchReading;

  it.each<[string, WatchReading, string[]]>([
    ["the one it names", sound, ["A1"]],
    ["all of its device", unnamed, ["A1", "A2"]],
    ["all of the site, for a device that nobody knows", { ...unnamed, device: "X" }, ["A1", "A2", "A3"]],
  ])("are %s", (_, reading, expected) => {
    expect(arraysConcerned(reading, arrays)).toEqual(expected);
  });
});
