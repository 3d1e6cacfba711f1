import { describe, expect, it } from "vitest";
import { mayBindTexts, thresholdText } from "./array-blocks.ts";

const plain = (text: string): string => text.replaceAll("\u00a0", " ");

describe("mayBindTexts", () => {
  const duty = {
    alarm: "undecided",
    rulePack: null,
    row: null,
    alternatives: [],
    reasons: [],
    missing: [],
  } as const;

  it("says of each pack what it says, and that it may not be held here at all", () => {
    const mayBind = [
      { rulePack: "old", says: "undecided", work: "installed" },
      { rulePack: "new", says: "required", work: "altered" },
      { rulePack: null, says: "undecided" },
    ] as const;
    expect(mayBindTexts({ ...duty, mayBind })).toEqual([
      "rule pack old may bind for the installation: whether it requires an alarm is open",
      "rule pack new may bind for the alteration: it requires an alarm",
      "an edition that is not held here may bind: what it says is not known",
    ]);
  });

  it("passes over the pack that decides, and says of another that it may bind instead", () => {
    const mayBind = [
      { rulePack: "new", says: "required" },
      { rulePack: "old", says: "required" },
    ] as const;
    expect(mayBindTexts({ ...duty, alarm: "required", rulePack: "new", mayBind })).toEqual([
      "rule pack old may bind instead: it requires an alarm",
    ]);
  });
});

describe("thresholdText", () => {
  const threshold = { ohms: 30_000, source: "table", tag: "memory" } as const;

  it.each([
    ["required", "alarm below 30 kΩ"],
    ["undecided", "alarm below 30 kΩ, if an alarm is required"],
    ["not-required", "no alarm is required; the insulation limit would be 30 kΩ"],
  ] as const)("with an alarm %s: %s", (alarm, text) => {
    expect(plain(thresholdText(threshold, alarm))).toBe(text);
  });

  it("names the other rating in words", () => {
    const otherwise = { ohms: 20_000, rating: "inverter-kilovoltamperes" };
    expect(plain(thresholdText({ ...threshold, otherwise }, "required"))).toBe(
      "alarm below 30 kΩ; by the inverter's kVA it would be 20 kΩ",
    );
  });
});
