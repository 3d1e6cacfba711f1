import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Fit } from "./fit.ts";
import type { Posterior } from "./posterior.ts";
import { placesOfString } from "./places.ts";
import { COMMIT, credibleSet, judge, rankPlaces } from "./verdict.ts";

const PLACES = [
  ...placesOfString({ id: "S1", modules: 10 }, 0, 3),
  ...placesOfString({ id: "S2", modules: 10 }, 1, 3),
];
const FITS: Fit = { consistent: true, chiSquared: 1, suspects: [] };
const CERTAIN = { none: 0, wetness: 0, one: 1, two: 0 };

/** A posterior with these hypotheses, and probabilities by index of the place (31 places a string). */
function judged(
  hypotheses: Posterior["hypotheses"],
  probabilities: Readonly<Record<number, number>>,
  circumstances: Partial<Parameters<typeof judge>[2]> = {},
) {
  const given = PLACES.map((_, i) => probabilities[i] ?? 0);
  const ranked = rankPlaces(PLACES, given);
  return judge({ hypotheses } as Posterior, ranked, {
    fit: FITS,
    declined: null,
    insulationAtLeastOhms: 0,
    ...circumstances,
  });
}

describe("the verdict", () => {
  it.each([
    ["located: one place holds nine tenths", CERTAIN, { 15: 0.91, 16: 0.09 }, "located"],
    [
      "narrowed: its neighbours within three modules hold nine tenths",
      CERTAIN,
      { 15: 0.5, 18: 0.41, 24: 0.09 },
      "narrowed",
    ],
    ["cannot-tell: places more than three modules apart", CERTAIN, { 5: 0.5, 20: 0.5 }, "cannot-tell"],
    ["cannot-tell: the same place on two strings", CERTAIN, { 15: 0.5, 46: 0.5 }, "cannot-tell"],
    [
      "cannot-tell: a fault is not certain",
      { none: 0.1, wetness: 0, one: 0.9, two: 0 },
      { 15: 1 },
      "cannot-tell",
    ],
    [
      "no-fault: healthy leakage explains it",
      { none: 0.98, wetness: 0, one: 0.02, two: 0 },
      { 15: 1 },
      "no-fault",
    ],
    [
      "cannot-tell: wetness explains it",
      { none: 0.5, wetness: 0.48, one: 0.02, two: 0 },
      { 15: 1 },
      "cannot-tell",
    ],
    [
      "more-than-one: two faults are four fifths likely",
      { none: 0, wetness: 0, one: 0.2, two: 0.8 },
      { 15: 1 },
      "more-than-one",
    ],
    [
      "located: two faults are possible, one is likelier",
      { none: 0, wetness: 0, one: 0.7, two: 0.3 },
      { 15: 1 },
      "located",
    ],
  ] as const)("%s", (_, hypotheses, probabilities, verdict) => {
    const judgement = judged(hypotheses, probabilities);
    expect(judgement.verdict).toBe(verdict);
    expect(judgement.because).toMatch(/\d %|wetness/);
  });

  it("is inconsistent before anything else that the figures say", () => {
    const fit = { ...FITS, consistent: false };
    expect(judged(CERTAIN, { 15: 1 }, { fit }).verdict).toBe("inconsistent");
  });

  it("cannot tell from readings that were declined, and gives the reason, whatever the figures say", () => {
    const declined = { code: "READING_UNDER_LOAD", because: "taken under load", planned: false } as const;
    const judgement = judged(CERTAIN, { 15: 1 }, { declined, fit: { ...FITS, consistent: false } });
    expect(judgement).toEqual({ verdict: "cannot-tell", because: "taken under load" });
  });

  it("is no-fault on a string whose whole insulation is above the softest fault, wet or not", () => {
    const wet = { none: 0.3, wetness: 0.69, one: 0.01, two: 0 };
    expect(judged(wet, { 15: 1 }, { insulationAtLeastOhms: 2.1e6 }).verdict).toBe("no-fault");
    expect(judged(wet, { 15: 1 }, { insulationAtLeastOhms: 1.9e6 }).verdict).toBe("cannot-tell");
  });

  it("never claims certainty in words", () => {
    expect(judged(CERTAIN, { 15: 1 }).because).not.toContain("100");
  });
});

describe("the credible set", () => {
  const shares = fc
    .array(fc.double({ min: 1e-6, max: 1, noNaN: true }), {
      minLength: PLACES.length,
      maxLength: PLACES.length,
    })
    .map((weights) => {
      const total = weights.reduce((sum, weight) => sum + weight, 0);
      return weights.map((weight) => weight / total);
    });

  it("holds its level, and would not without its last place", () => {
    fc.assert(
      fc.property(shares, fc.double({ min: 0.05, max: 0.99, noNaN: true }), (probabilities, level) => {
        const set = credibleSet(rankPlaces(PLACES, probabilities), level);
        const held = set.reduce((sum, { probability }) => sum + probability, 0);
        expect(held).toBeGreaterThanOrEqual(level - 1e-12);
        expect(held - set[set.length - 1]!.probability).toBeLessThan(level);
        const least = Math.min(...set.map(({ probability }) => probability));
        expect(probabilities.filter((probability) => probability > least).length).toBeLessThanOrEqual(
          set.length,
        );
      }),
    );
  });

  it("is asked for at nine tenths", () => {
    expect(COMMIT.credibleLevel).toBe(0.9);
  });
});
