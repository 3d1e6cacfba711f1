import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { addMix, addState, stateMix } from "./state-mix.ts";

const part = fc.double({ min: 0, max: 1, noNaN: true });
const parts = (length: number): fc.Arbitrary<number[]> =>
  fc.array(part, { minLength: length, maxLength: length });

const LAGS = 5;
const anyStates = fc.integer({ min: 1, max: 5 }).chain((members) =>
  fc.record({
    unseen: fc.array(parts(LAGS), { minLength: members, maxLength: members }),
    states: fc.array(fc.record({ share: part, never: parts(members), slope: parts(members) }), {
      minLength: 1,
      maxLength: 30,
    }),
  }),
);

describe("many states of few members", () => {
  it("add up to the same multiplied out as one by one, on the lags asked for only", () => {
    fc.assert(
      fc.property(anyStates, ({ unseen, states }) => {
        const mix = stateMix(unseen.length);
        for (const { share, never, slope } of states)
          addState(mix, share, Float64Array.from(never), Float64Array.from(slope));
        const out = new Float64Array(LAGS);
        addMix(
          mix,
          unseen.map((one) => Float64Array.from(one)),
          1,
          LAGS - 1,
          out,
        );
        out.forEach((found, k) => {
          const product = ({ share, never, slope }: (typeof states)[number]): number =>
            unseen.reduce((left, one, j) => left * (never[j]! + slope[j]! * one[k]!), share);
          const sum = states.reduce((so, state) => so + product(state), 0);
          expect(found).toBeCloseTo(k === 0 || k === LAGS - 1 ? 0 : sum, 10);
        });
      }),
    );
  });
});
