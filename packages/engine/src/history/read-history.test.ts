import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { HistoryReading } from "./reading.ts";
import { readHistory } from "./read-history.ts";
import { CLIMATES, simulateHistory, SIMULATED_TROUBLES } from "./simulate/index.ts";

const DAY = 86_400_000;
const FIRST = Date.UTC(2024, 0, 1, 6, 30);
const CONTEXT = {
  timezone: "UTC",
  threshold: { value: 30_000, source: "test", tag: "user" },
} as const;

/** One reading each morning. */
function mornings(count: number, ohmsOf: (day: number) => number): HistoryReading[] {
  return Array.from({ length: count }, (_, day) => ({ at: FIRST + day * DAY, ohms: ohmsOf(day) }));
}

/** A dry array with a little unrest, the same every time. */
const sound = (day: number): number => 5e6 * 10 ** (0.05 * Math.sin(day * 12.9898));
const read = (readings: readonly HistoryReading[]) => readHistory({ array: "A1", readings }, CONTEXT).finding;

describe("what a history shows", () => {
  it.each([
    ["a level that stays is healthy", (day: number) => sound(day), "healthy"],
    ["a fall to a hundredth that stays is hard", (day: number) => sound(day) / (day < 260 ? 1 : 100), "hard"],
    [
      "a tenth each year is progressive",
      (day: number) => sound(day) * 10 ** (-Math.max(0, day - 100) / 365),
      "progressive",
    ],
    [
      "one value for weeks, below what was shown before, is a stuck sensor",
      (day: number) => (day < 300 ? sound(day) : 3.1e6),
      "sensor",
    ],
    [
      "a quarter of zeros is a sensor that drops out",
      (day: number) => (day > 200 && day % 4 === 0 ? 0 : sound(day)),
      "sensor",
    ],
  ] as const)("%s", (_, ohmsOf, verdict) => {
    expect(read(mornings(400, ohmsOf)).verdict).toBe(verdict);
  });

  it("dates a step to the day", () => {
    const { changes } = read(mornings(400, (day) => sound(day) / (day < 260 ? 1 : 100)));
    expect(changes.map(({ date }) => date)).toEqual(["2024-09-17"]);
  });

  it.each(SIMULATED_TROUBLES)("of a simulated array that is %s is found", (trouble) => {
    const { readings } = simulateHistory({
      trouble,
      seed: 26,
      firstDay: 19_000,
      days: 1826,
      offsetMin: 0,
      climate: CLIMATES["inland valley"],
    });
    expect(read(readings).verdict).toBe(trouble);
  });

  it("treats the largest value that recurs as the instrument's ceiling", () => {
    const { instrument, dryLevel, verdict } = read(mornings(200, (day) => Math.min(sound(day), 4.9e6)));
    expect(instrument.ceilingOhms).toBe(4.9e6);
    expect(dryLevel?.atLeast).toBe(true);
    expect(verdict).toBe("healthy");
  });

  it("says so where the threshold is not within five years", () => {
    const { forecast } = read(mornings(400, sound));
    expect(forecast?.dry?.soonestDays).toBeNull();
  });

  it("puts the true day of crossing into the interval of a steady decline", () => {
    // 5 MΩ falls to 30 kΩ in log10(5e6/3e4) = 2.222 years of a tenth each, 100 days after the first.
    const { forecast } = read(mornings(400, (day) => sound(day) * 10 ** (-Math.max(0, day - 100) / 365)));
    const truth = 100 + 2.2218 * 365 - 399;
    expect(forecast!.dry!.soonestDays).toBeLessThan(truth);
    expect(forecast!.dry!.latestDays).toBeGreaterThan(truth);
  });
});

describe("garbage", () => {
  it.each([
    [
      "ten points, all below the threshold, give no verdict and say look now",
      mornings(10, () => 1000),
      "too-little-data",
    ],
    ["no readings at all give no verdict", [], "too-little-data"],
    [
      "readings of one day give no verdict",
      Array.from({ length: 200 }, (_, i) => ({ at: FIRST + i * 60_000, ohms: 1e6 })),
      "too-little-data",
    ],
    ["negative readings alone give no verdict", mornings(100, () => -5), "too-little-data"],
    ["over-range alone gives no verdict", mornings(100, () => 1e12), "too-little-data"],
  ] as const)("%s", (_, readings, verdict) => {
    expect(read(readings).verdict).toBe(verdict);
  });

  it("says that a newest reading below the threshold is an alarm, verdict or not", () => {
    const { advice } = read(mornings(10, () => 1000));
    expect(advice[0]?.kind).toBe("caution");
    expect(advice.map(({ text }) => text).join(" ")).toContain("treat it as an alarm");
  });

  it("counts each doubt", () => {
    const given = [
      ...mornings(60, sound),
      { at: FIRST + 3 * DAY, ohms: sound(3) },
      { at: FIRST + 4 * DAY, ohms: 17 },
      { at: FIRST + 70 * DAY, ohms: Number.NaN },
      { at: FIRST + 71 * DAY, ohms: -1 },
      { at: FIRST + 72 * DAY, ohms: 1e12 },
      { at: FIRST + 73 * DAY, ohms: 0 },
    ];
    const counts = read(given).doubts.map(({ code, count }) => [code, count]);
    expect(counts).toEqual([
      ["not-a-number", 1],
      ["negative", 1],
      ["zero", 1],
      ["too-large", 1],
      ["out-of-order", 2],
      ["repeated", 1],
      ["contradicting", 1],
    ]);
  });

  it("gives the same in any order", () => {
    const readings = mornings(120, (day) => sound(day) / (day < 60 ? 1 : 50));
    const shuffled = readings.toSorted((a, b) => ((a.at * 7919) % 1009) - ((b.at * 7919) % 1009));
    const { doubts, ...rest } = read(shuffled);
    const { doubts: none, ...straight } = read(readings);
    expect(none).toEqual([]);
    expect(doubts.map(({ code }) => code)).toEqual(["out-of-order"]);
    expect(rest).toEqual(straight);
  });

  it("never throws, and its probabilities add up to one", () => {
    const reading = fc.record({
      at: fc.oneof(fc.integer({ min: FIRST, max: FIRST + 400 * DAY }), fc.constant(Number.NaN)),
      ohms: fc.oneof(
        fc.double({ min: 1, max: 1e9, noNaN: true }),
        fc.constantFrom(0, -1, 1e12, Number.NaN, Infinity, 2e7),
      ),
    });
    fc.assert(
      fc.property(fc.array(reading, { maxLength: 150 }), (readings) => {
        const { probabilities, evidence } = read(readings);
        expect(Object.values(probabilities).reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
        expect(evidence).toMatch(/\.$/u);
        expect(evidence).not.toMatch(/NaN|undefined|Infinity/u);
      }),
      { numRuns: 150 },
    );
  });

  it("refuses a zone that is none", () => {
    expect(() =>
      readHistory({ array: "A1", readings: mornings(3, sound) }, { timezone: "Moon/Tycho" }),
    ).toThrow(RangeError);
  });
});
