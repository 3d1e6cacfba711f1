import {
  changePoints,
  mannKendall,
  normalQuantile,
  normalTail,
  quantile,
  serialVarianceFactor,
  theilSen,
} from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import cases from "./cases.json" with { type: "json" };

/** Relative where the value is large, absolute where it is small. */
function expectClose(found: number, expected: number, tolerance = 1e-9): void {
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(tolerance * Math.max(1, Math.abs(expected)));
}

describe("Theil–Sen against scipy.stats.theilslopes", () => {
  it.each(cases.trends)("$name: slope, intercept and 95 % and 90 % intervals", (series) => {
    const found = theilSen(series.x, series.y)!;
    for (const key of ["slope", "intercept", "low", "high"] as const)
      expectClose(found[key], series.theilSen[key], 1e-12 * 1e3);
    const ninety = theilSen(series.x, series.y, { confidence: 0.9 })!;
    expectClose(ninety.low, series.theilSen90.low);
    expectClose(ninety.high, series.theilSen90.high);
  });
});

describe("Mann–Kendall against its definition", () => {
  it.each(cases.trends)("$name: score, variance, z and p", ({ y, mannKendall: expected }) => {
    const found = mannKendall(y);
    expect(found.score).toBe(expected.score);
    expectClose(found.variance, expected.variance);
    expectClose(found.z, expected.z);
    expectClose(found.p, expected.p);
  });

  it.each(cases.trends.filter((series) => series.hamedRao !== undefined))(
    "$name: variance factor after Hamed and Rao",
    ({ y, hamedRao }) => {
      expectClose(serialVarianceFactor(y, hamedRao.maxLag), hamedRao.factor);
    },
  );
});

describe("quantiles against numpy", () => {
  it.each(cases.quantiles)("$name", ({ y, shares, values }) => {
    shares.forEach((share, i) => {
      expectClose(quantile(y, share), values[i]!, 1e-12);
    });
  });
});

describe("change points against the optimal partition by its definition", () => {
  it.each(cases.partitions)("$name: $changes", ({ y, penalty, least, changes }) => {
    expect(changePoints(y, penalty, least)).toEqual(changes);
  });
});

describe("the normal distribution against scipy", () => {
  it.each(cases.tails)("tail above $z", ({ z, tail }) => {
    expect(Math.abs(normalTail(z) / tail - 1)).toBeLessThan(1e-12);
  });

  it.each(cases.normalQuantiles)("quantile $p", ({ p, z }) => {
    expectClose(normalQuantile(p), z, 1e-12);
  });
});
