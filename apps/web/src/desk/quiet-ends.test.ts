import type { Site } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import { quietEnds } from "./quiet-ends.ts";

const HOUR = 3_600_000;
/** Sydney, 21 December 2026: the sun rises at 05:41 local time, 18:41 UTC (published sunrise tables, to the minute; from memory). */
const SUNRISE = Date.UTC(2026, 11, 21, 18, 41);
const site = { place: { latitudeDeg: -33.87, longitudeDeg: 151.21 } } as unknown as Site;
const ends = (now: number) => quietEnds("shelve", site, now).map(([at]) => Number(at));

describe("ends of a quiet time", () => {
  it("never shelve past the next sunrise at the site", () => {
    const evening = SUNRISE - 10 * HOUR;
    expect(ends(evening)).toHaveLength(5);
    const last = ends(evening).at(-1)!;
    expect(Math.abs(last - SUNRISE)).toBeLessThan(5 * 60_000);
    const beforeDawn = SUNRISE - 1.5 * HOUR;
    expect(ends(beforeDawn).slice(0, -1)).toEqual([beforeDawn + HOUR]);
    expect(Math.max(...ends(beforeDawn))).toBeLessThan(SUNRISE + 5 * 60_000);
  });

  it("go by hours alone where the site does not say where it lies", () => {
    const hours = quietEnds("shelve", undefined, 0).map(([at]) => Number(at) / HOUR);
    expect(hours).toEqual([1, 2, 4, 8]);
  });

  it("let an alarm be out of service for a week at most", () => {
    const hours = quietEnds("begin-maintenance", site, 0).map(([at]) => Number(at) / HOUR);
    expect(hours).toEqual([4, 8, 24, 72, 168]);
  });
});
