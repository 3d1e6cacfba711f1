import { type AlarmLoop, batteryCapacityAh, batteryNeeded, standbyHours } from "@earthbell/engine";
import { describe, expect, it } from "vitest";

describe("BS 5839-1:2025 Annex E: 0.25 A for 24 h, then 0.75 A for half an hour, D = 1.75", () => {
  it("the alarm takes 0.656 Ah", () => {
    expect(batteryCapacityAh(0, 0, { currentA: 0.75, hours: 0.5, d: 1.75 }, 1)).toBeCloseTo(0.656, 3);
  });

  it("the whole is 8.32 Ah, and 0.75 A is more than C/20, so D is 1.75", () => {
    expect(batteryCapacityAh(0.25, 24, { currentA: 0.75, hours: 0.5, d: 1.75 })).toBeCloseTo(8.32, 2);
    expect(batteryNeeded({ quiescentA: 0.25, alarmA: 0.75 })).toBeCloseTo(8.32, 2);
  });

  it("where C/20 covers the alarm current D is 1: 0.25 A and 0.3 A give 1.25 · (6 + 0.15) = 7.69 Ah", () => {
    expect(batteryNeeded({ quiescentA: 0.25, alarmA: 0.3 })).toBeCloseTo(7.69, 2);
  });
});

describe("the same rule solved for the time, as a path's battery is judged", () => {
  const loop = (battery: number, quiescentCurrent: number, current: number): AlarmLoop =>
    ({ battery, quiescentCurrent, load: { kind: "sounder", current } }) as unknown as AlarmLoop;

  it("8.32 Ah at 0.25 A and 0.75 A lasts the 24 h of the worked example", () => {
    expect(standbyHours(loop(8.32, 0.25, 0.75))).toBeCloseTo(24, 2);
  });

  it("1.2 Ah at 0.06 A and 0.75 A lasts (0.96 − 1.75 · 0.375) / 0.06 = 5.06 h, by hand", () => {
    expect(standbyHours(loop(1.2, 0.06, 0.75))).toBeCloseTo(5.06, 2);
  });

  it("7.69 Ah at 0.25 A and 0.3 A, where C/20 covers the alarm current, lasts 24 h", () => {
    expect(standbyHours(loop(7.6875, 0.25, 0.3))).toBeCloseTo(24, 6);
  });
});

describe("older forms", () => {
  it("0.05 A for 24 h and 0.3 A counted once: 1.875 Ah", () => {
    expect(batteryCapacityAh(0.05, 24, { currentA: 0.3, hours: 0.5, d: 2 })).toBeCloseTo(1.875, 3);
  });

  it("0.25 A for 24 h and 1.5 A for 5 min without ageing: 6.125 Ah", () => {
    expect(batteryCapacityAh(0.25, 24, { currentA: 1.5, hours: 5 / 60 }, 1)).toBeCloseTo(6.125, 3);
  });
});
