import { adjustedForMany, groupTail, wilsonInterval } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import cases from "./cases.json" with { type: "json" };

describe("shares of a fleet against scipy", () => {
  it.each(cases.intervals)("Wilson 90 % of $hits in $of", ({ hits, of, low, high }) => {
    const found = wilsonInterval(hits, of);
    expect(found.low).toBeCloseTo(low, 9);
    expect(found.high).toBeCloseTo(high, 9);
  });

  it.each(cases.tails)("Fisher: $hits of $of where the fleet has $allHits of $all", (given) => {
    expect(groupTail(given.hits, given.of, given.allHits, given.all)).toBeCloseTo(given.p, 9);
  });

  it.each(cases.adjusted)("Benjamini–Hochberg of $ps", ({ ps, adjusted }) => {
    adjustedForMany(ps).forEach((value, i) => {
      expect(value).toBeCloseTo(adjusted[i]!, 12);
    });
  });
});
