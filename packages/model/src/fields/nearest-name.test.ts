import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { editDistance, nearestName } from "./nearest-name.ts";

describe("editDistance", () => {
  // Counted by hand.
  test.each([
    ["", "", 0],
    ["shunt", "shunt", 0],
    ["shunts", "shunt", 1],
    ["shutn", "shunt", 1],
    ["voltmetre", "voltmeter", 1],
    ["kitten", "sitting", 3],
    ["", "abc", 3],
  ])("from %j to %j is %i", (from, to, distance) => {
    expect(editDistance(from, to)).toBe(distance);
    expect(editDistance(to, from)).toBe(distance);
  });

  test("is never more than the longer word and zero only for equal words", () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 8 }), fc.string({ maxLength: 8 }), (from, to) => {
        const distance = editDistance(from, to);
        expect(distance).toBeLessThanOrEqual(Math.max(from.length, to.length));
        expect(distance === 0).toBe(from === to);
      }),
    );
  });
});

describe("nearestName", () => {
  const known = ["separation", "insulationCheck", "residualMonitor", "id", "on"];
  test.each([
    ["seperation", "separation"],
    ["insulation_check", "insulationCheck"],
    ["ResidualMonitor", "residualMonitor"],
    ["ID", "id"],
  ])("of %j is %j", (name, nearest) => {
    expect(nearestName(name, known)).toBe(nearest);
  });

  test.each(["colour", "no", "S2", "x".repeat(1000)])("of %j is none", (name) => {
    expect(nearestName(name, known)).toBeUndefined();
  });
});
