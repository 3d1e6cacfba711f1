import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Candela, DecibelsA, Metres } from "../quantity/index.ts";
import { effectiveIntensity, illuminanceAt, LIGHT_THRESHOLDS, type Scene, sightDistance } from "./light.ts";
import { soundAt } from "./sound.ts";
import { hearingByHour, levelsTogether, type Sounder, soundscapeLevel } from "./soundscape.ts";
import { daily } from "./tarn.fixture.ts";

const sounder = (levelAt1m: number, distance: number, ...barriers: number[]): Sounder =>
  ({ levelAt1m, distance, barriers }) as unknown as Sounder;

/** Quiet nights, loud milking hours. */
const DAIRY = Array.from({ length: 24 }, (_, hour) => (hour >= 5 && hour < 8 ? 80 : 40));

describe("sounds together", () => {
  it("are louder than the loudest and by no more than 10 log₁₀ of their number", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 30, max: 120, noNaN: true }), { minLength: 1, maxLength: 8 }),
        (levels) => {
          const loudest = Math.max(...levels);
          const together = levelsTogether(levels);
          expect(together).toBeGreaterThanOrEqual(loudest - 1e-9);
          expect(together).toBeLessThanOrEqual(loudest + 10 * Math.log10(levels.length) + 1e-9);
        },
      ),
    );
  });

  it("are silence where there is none", () => {
    expect(soundscapeLevel([])).toBe(-Infinity);
  });

  it("lose with distance and with each barrier", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 500, noNaN: true }),
        fc.double({ min: 0, max: 50, noNaN: true }),
        (metres, wall) => {
          const near = soundAt(100 as DecibelsA, metres as Metres);
          expect(soundAt(100 as DecibelsA, (2 * metres) as Metres)).toBeCloseTo(near - 6.0206, 3);
          expect(soundAt(100 as DecibelsA, metres as Metres, [wall as DecibelsA])).toBeCloseTo(
            near - wall,
            9,
          );
        },
      ),
    );
  });
});

describe("hearing by the hour of the day", () => {
  it("takes away the hours in which the dairy is loud", () => {
    const found = hearingByHour([sounder(100, 10)], DAIRY, daily(4, 10));
    expect(found.level).toBeCloseTo(80, 9);
    expect(found.hours.slice(4, 9)).toEqual(["heard", "masked", "masked", "masked", "heard"]);
    expect(found.heardShare).toBe(0.5);
    expect(found.heardWhilePresent.slice(0, 2)).toEqual([
      { fromMinute: 240, toMinute: 300 },
      { fromMinute: 480, toMinute: 600 },
    ]);
  });

  it("is nothing where nobody is present", () => {
    expect(hearingByHour([sounder(100, 10)], DAIRY, []).heardShare).toBe(0);
  });

  it("refuses a day that has not 24 hours", () => {
    expect(() => hearingByHour([], [40], [])).toThrow(/PATH_AMBIENT_HOURS_WRONG.*24/);
  });
});

describe("light", () => {
  it.each<[Scene, number]>([
    ["bright-day", 10],
    ["night", Math.sqrt(0.1 / 2e-7)],
  ])("of 0.1 cd is found by %s at %f m, where it gives just the threshold", (scene, metres) => {
    const reach = sightDistance(0.1 as Candela, scene);
    expect(reach).toBeCloseTo(metres, 6);
    expect(illuminanceAt(0.1 as Candela, reach)).toBeCloseTo(LIGHT_THRESHOLDS[scene].value, 12);
  });

  it("counts half as a flash of 0.2 s, by Blondel and Rey", () => {
    expect(effectiveIntensity(10 as Candela, 0.2)).toBeCloseTo(5, 12);
  });
});
