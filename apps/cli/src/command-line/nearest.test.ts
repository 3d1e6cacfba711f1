import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { editDistance, nearest } from "./nearest.ts";

const commands = ["assess", "locate", "explain", "schema", "rules", "demo", "help"];

describe("nearest", () => {
  it.each([
    { typed: "asess", close: ["assess"], why: "one letter dropped" },
    { typed: "lcoate", close: ["locate"], why: "two neighbours swapped" },
    { typed: "EXPLAIN", close: ["explain"], why: "case is ignored" },
    { typed: "sch", close: ["schema"], why: "the start of a name" },
    { typed: "frobnicate", close: [], why: "nothing is near" },
    { typed: "", close: [], why: "an empty word is near nothing" },
  ])("answers $close to '$typed': $why", ({ typed, close }) => {
    expect(nearest(typed, commands)).toEqual(close);
  });
});

describe("editDistance", () => {
  // Worked by hand from the definition of the optimal string alignment distance.
  it.each([
    { from: "kitten", to: "sitting", edits: 3 },
    { from: "ab", to: "ba", edits: 1 },
    { from: "ca", to: "abc", edits: 3 },
    { from: "", to: "abc", edits: 3 },
  ])("from '$from' to '$to' takes $edits edits", ({ from, to, edits }) => {
    expect(editDistance(from, to)).toBe(edits);
  });

  it("is symmetric, zero only for equal words, and never more than the longer word", () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 12 }), fc.string({ maxLength: 12 }), (a, b) => {
        const distance = editDistance(a, b);
        expect(editDistance(b, a)).toBe(distance);
        expect(distance === 0).toBe(a === b);
        expect(distance).toBeLessThanOrEqual(Math.max(a.length, b.length));
      }),
    );
  });
});
