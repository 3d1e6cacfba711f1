import { describe, expect, it } from "vitest";
import { durationText, instantText, listed, ohmsText } from "./grounds.ts";
import { DAY, HOUR, MINUTE } from "./time/span.ts";

describe("words of a reason", () => {
  it.each([
    [0, "0 s"],
    [2 * MINUTE - 1, "119 s"],
    [2 * MINUTE, "2 min"],
    [2 * HOUR - 1, "119 min"],
    [2 * HOUR, "2 h"],
    [24 * HOUR - 1, "23 h"],
    [2 * DAY - 1, "47 h"],
    [2 * DAY, "2 d"],
  ])("give %i ms as %s, never more than it was", (ms, text) => {
    expect(durationText(ms)).toBe(text);
  });

  it.each([
    [Date.UTC(2028, 1, 29, 5, 12, 59), "2028-02-29 05:12 UTC"],
    [-1, "1969-12-31 23:59 UTC"],
    [NaN, "NaN"],
    [8.64e15 + 1, "8640000000000001"],
  ])("give the instant %f as %s", (at, text) => {
    expect(instantText(at)).toBe(text);
  });

  it("join names and tell a value from the limit it just misses", () => {
    expect([[], ["a"], ["a", "b"], ["a", "b", "c"]].map(listed)).toEqual(["", "a", "a and b", "a, b and c"]);
    expect([29_999, 2e7, 0].map((ohms) => ohmsText({ ohms }))).toEqual(["29.999 kΩ", "20 MΩ", "0 Ω"]);
    expect(ohmsText({ ohms: 2e7, atLeast: true })).toBe("at least 20 MΩ");
  });
});
