import { changePoints, mannKendall, normalTail, pettitt, theilSen } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import nile from "./nile.json" with { type: "json" };

const days = (values: readonly number[]): number[] => values.map((_, i) => i);

// mathcs.holycross.edu/~little MannKendallByHand.txt: S = 54, Z = 2.9058, one-sided p = .0018 [published].
const BY_HAND = [12.9, 14.8, 13.2, 15.7, 13.8, 15.6, 12.9, 11.0, 17.3, 15.9, 19.0, 18.3, 20.1, 21.7];
// Gilbert 1987, page 212: Z 3.1 to the printed digit [published, seen in a public unit test].
const GILBERT = [20, 20, 20, 20, 15, 20, 20, 30, 27, 26, 23, 35, 25, 28, 70, 26, 24, 34, 32, 23, 50, 30];

describe("Mann–Kendall, published examples to their printed digits", () => {
  it("worked by hand: 54, 2.9058, .0018", () => {
    const { score, z, p } = mannKendall(BY_HAND);
    expect(score).toBe(54);
    expect(z.toFixed(4)).toBe("2.9058");
    expect((p / 2).toFixed(4)).toBe("0.0018");
  });

  it("Gilbert 1987: 3.1", () => {
    expect(mannKendall(GILBERT).z.toFixed(1)).toBe("3.1");
  });

  it("1 to 100: 4950, 112750, 14.73869998208331 (unit test of a public Julia package)", () => {
    const found = mannKendall(Array.from({ length: 100 }, (_, i) => i + 1));
    expect(found.score).toBe(4950);
    expect(found.variance).toBe(112_750);
    expect(found.z).toBeCloseTo(14.73869998208331, 12);
    expect(found.p / 3.64e-49).toBeCloseTo(1, 2);
  });
});

describe("Theil–Sen of the same series, scipy 1.17.1 [computed]", () => {
  it("worked by hand: 0.5666667, 0.325 to 0.866667, intercept 11.966667", () => {
    const found = theilSen(days(BY_HAND), BY_HAND)!;
    expect(found.slope).toBeCloseTo(0.5666667, 7);
    expect(found.low).toBeCloseTo(0.325, 7);
    expect(found.high).toBeCloseTo(0.866667, 6);
    expect(found.intercept).toBeCloseTo(11.966667, 6);
  });

  it("Gilbert 1987: 0.6666667", () => {
    expect(theilSen(days(GILBERT), GILBERT)!.slope).toBeCloseTo(0.6666667, 7);
  });
});

describe("Nile 1871–1970, R 4.2.2 with strucchange 1.5-3 [computed]", () => {
  const { flow } = nile;

  it("is the series R ships: squares about the mean 2835156.75", () => {
    const mean = flow.reduce((sum, value) => sum + value, 0) / flow.length;
    expect(flow.reduce((sum, value) => sum + (value - mean) ** 2, 0)).toBeCloseTo(2_835_156.75, 2);
  });

  it.each([100_000, 500_000, 1_200_000])(
    "breaks once, after observation 28, at a penalty of %d",
    (penalty) => {
      expect(changePoints(flow, penalty)).toEqual([28]);
    },
  );

  it("does not break at a penalty above the gain of 1,237,700", () => {
    expect(changePoints(flow, 1_300_000)).toEqual([]);
  });

  it("Pettitt: K = 1617 after observation 28, p = 3.59e-7", () => {
    const found = pettitt(flow)!;
    expect(found.before).toBe(28);
    expect(found.statistic).toBe(1617);
    expect(found.p.toExponential(2)).toBe("3.59e-7");
  });

  it("a pure step passes the trend test: S = -1387, Z = -4.128, slope -2.6 a year", () => {
    const { score, z, p } = mannKendall(flow);
    expect(score).toBe(-1387);
    expect(z.toFixed(3)).toBe("-4.128");
    expect(p).toBeCloseTo(2 * normalTail(4.128), 6);
    expect(theilSen(days(flow), flow)!.slope.toFixed(1)).toBe("-2.6");
  });
});
