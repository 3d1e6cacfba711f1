import type { ValueOverride } from "@earthbell/engine";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { JOBS } from "./jobs.ts";

/** Two strings of twelve modules of 37.4 V in Victoria, 2026: above 120 V on the coldest day, below 1000 V. */
const ANSWERS = readFileSync(new URL("../../../../demo/advice/shearing-shed.yaml", import.meta.url), "utf8");

const bound = (row: number, name: "above" | "atMost"): ValueOverride => ({
  ...{ pack: "au-nz-5033-2021", field: `duty[${row}].when[0].${name}`, value: 1000 },
  ...{ because: "a trial of the authority", source: "letter of 2 March", by: "Ann Lee", on: "2026-11-24" },
});

function dutyBy(overrides: readonly ValueOverride[]) {
  const done = JOBS.advise(ANSWERS, { own: [], overrides });
  if (!done.ok) throw new Error("the answers have faults");
  return done.advice.duty;
}

describe("advice at a desk", () => {
  it("goes by the bounds that the desk overrode, and says so in the source", () => {
    const by = (alarm: string, overrides: readonly ValueOverride[]) => {
      const duty = dutyBy(overrides);
      expect(duty.alarm).toBe(alarm);
      return duty.reasons.filter(({ source }) => source.startsWith("overridden by Ann Lee on 2026-11-24"));
    };
    expect(by("required", [])).toEqual([]);
    expect(by("not-required", [bound(0, "atMost"), bound(1, "above")])).toMatchObject([
      {
        tag: "user",
        source: expect.stringMatching(/a trial of the authority \(from letter of 2 March\)/u) as unknown,
      },
    ]);
  });

  it("names an overridden bound also where its row does not hold", () => {
    const { alarm, reasons } = dutyBy([{ ...bound(0, "atMost"), value: 100 }]);
    expect(alarm).toBe("required");
    expect(reasons).toContainEqual(
      expect.objectContaining({
        text: expect.stringMatching(
          /^Row up-to-120-v of pack au-nz-5033-2021 does not hold here/u,
        ) as unknown,
      }),
    );
  });
});
