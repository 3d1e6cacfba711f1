import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Foremost } from "./foremost.ts";

interface Row {
  readonly rank: number;
  readonly at: number;
}
const byRank = (one: Row, other: Row): number => one.rank - other.rank;

describe("the foremost of many", () => {
  it("are what sorting all of them would begin with, the others counted", () => {
    fc.assert(
      fc.property(fc.array(fc.nat(20), { maxLength: 60 }), fc.integer({ min: 1, max: 8 }), (ranks, most) => {
        const rows = ranks.map((rank, at) => ({ rank, at }));
        const kept = new Foremost<Row>(most, byRank);
        for (const row of rows) kept.add(row);
        // The sort of the language is stable, by its standard.
        expect(kept.first).toEqual(rows.toSorted(byRank).slice(0, most));
        expect(kept.more).toBe(Math.max(0, rows.length - most));
      }),
    );
  });
});
