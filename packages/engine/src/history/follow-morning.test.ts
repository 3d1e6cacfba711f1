import { describe, expect, it } from "vitest";
import { followMorning, type FollowState, followState } from "./follow-morning.ts";
import type { Morning } from "./mornings.ts";
import { readHistory } from "./read-history.ts";

const dry = (day: number, lowest: number): Morning => ({
  day,
  minuteOfDay: 390,
  lowest,
  bound: "measured",
  recovered: null,
  recoveredBound: "measured",
  profile: null,
  wetness: "dry",
  wetBy: null,
  temperatureC: null,
  irradianceWm2: 40,
  depressionK: 6,
  dewMarginK: -6,
  toAndFro: null,
});
const usual = (day: number): number => 6.5 + 0.03 * Math.sin(day * 12.9898);

/** Follows mornings from nothing and tells the signs. */
function follow(mornings: readonly Morning[]): { readonly signs: string[]; readonly state: FollowState } {
  const none = followState(readHistory({ array: "A", readings: [] }, { timezone: "UTC" }));
  const signs: string[] = [];
  const state = mornings.reduce((before, morning) => {
    const { state: after, decision } = followMorning(before, morning);
    signs.push(decision.sign);
    return after;
  }, none);
  return { signs, state };
}

const learned = Array.from({ length: 60 }, (_, day) => dry(day, usual(day)));

describe("following morning by morning", () => {
  it("judges nothing before it knows thirty mornings of a kind", () => {
    const { signs } = follow(learned);
    expect(signs.slice(0, 30)).toEqual(Array.from({ length: 30 }, () => "not-judged"));
    expect(signs.slice(30).every((sign) => sign === "usual")).toBe(true);
  });

  it.each([
    [1, "low"],
    [2, "step"],
    [3, "step"],
  ])("tells a factor of five on morning %i as %s", (count, sign) => {
    const low = Array.from({ length: count }, (_, i) => dry(60 + i, usual(i) - 0.7));
    expect(follow([...learned, ...low]).signs.at(-1)).toBe(sign);
  });

  it("does not tell two low mornings with a usual one between", () => {
    const { signs } = follow([...learned, dry(60, 5.8), dry(61, usual(61)), dry(62, 5.8)]);
    expect(signs.slice(-3)).toEqual(["low", "usual", "low"]);
  });

  it("knows the water: what is usual on a wet morning is a step on dry ones", () => {
    const wet = (day: number): Morning => ({
      ...dry(day, usual(day) - 0.7),
      depressionK: 0.2,
      wetness: "wet",
    });
    const known = Array.from({ length: 120 }, (_, day) => (day % 2 === 0 ? dry(day, usual(day)) : wet(day)));
    expect(follow([...known, wet(120), wet(121), wet(122)]).signs.slice(-3)).toEqual([
      "usual",
      "usual",
      "usual",
    ]);
    const low = [120, 121, 122].map((day) => dry(day, usual(day) - 0.7));
    expect(follow([...known, ...low]).signs.at(-1)).toBe("step");
  });

  it("judges a day that was followed by its shape: a leak flattens it", () => {
    const day = (at: number, siemens: number): Morning => {
      // Wet by 6, dry in between, warm by 2 at the end, with a leak beside all of it.
      const shown = (dryOnes: number): number => usual(at) - Math.log10(dryOnes + siemens);
      const profile = { first: shown(6), highest: shown(1), last: shown(2) };
      return { ...dry(at, profile.first), depressionK: null, dewMarginK: null, profile };
    };
    const known = Array.from({ length: 60 }, (_, at) => day(at, 0));
    expect(follow([...known, day(60, 0), day(61, 0)]).signs.at(-1)).toBe("usual");
    expect(follow([...known, day(60, 4), day(61, 4)]).signs.at(-1)).toBe("step");
  });

  it("does not get used to a fault that stays", () => {
    const low = Array.from({ length: 200 }, (_, i) => dry(60 + i, 5.5));
    expect(follow([...learned, ...low]).signs.at(-1)).toBe("step");
  });

  it("judges a morning once", () => {
    const { state } = follow(learned);
    const again = followMorning(state, dry(59, 5));
    expect(again.decision.sign).toBe("not-judged");
    expect(again.state).toBe(state);
  });

  it("remembers a bounded number of plain values", () => {
    const { state } = follow(Array.from({ length: 900 }, (_, day) => dry(day, usual(day))));
    expect(Object.values(state.past).every((mornings) => mornings.length <= 400)).toBe(true);
    expect(JSON.parse(JSON.stringify(state))).toEqual(state);
  });
});
