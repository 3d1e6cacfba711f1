import { describe, expect, it } from "vitest";
import { blankStep } from "./setting-sheet-form.ts";
import { standingOfSheetStep } from "./sheet-step-standing.ts";

const step = { ...blankStep("one"), do: "Set the relay to any fault.", source: "design record" };

describe("how a step of a setting sheet stands", () => {
  it("is what it is to do, with a caution before it where it has one", () => {
    expect(standingOfSheetStep(step, 0, new Map())).toEqual({
      state: "proven",
      word: "Written",
      entered: "Set the relay to any fault.",
    });
    const { entered } = standingOfSheetStep({ ...step, caution: "Live parts." }, 0, new Map());
    expect(entered).toBe("with a caution: Set the relay to any fault.");
  });

  it("says what it lacks, and that something of it is to be put right, by its own place only", () => {
    expect(standingOfSheetStep(blankStep("one"), 0, new Map())).toEqual({
      state: "none",
      word: "Nothing to do yet",
    });
    expect(standingOfSheetStep({ ...step, source: " " }, 0, new Map()).word).toBe("Without its source");
    const wrong = new Map([["steps[1].tag", "Not a tag."]]);
    expect(standingOfSheetStep(step, 1, wrong).word).toBe("To be put right");
    expect(standingOfSheetStep(step, 11, wrong).word).toBe("Written");
  });

  it("cuts a long text between words, and a word without an end in it", () => {
    const long = standingOfSheetStep({ ...step, do: "Turn the switch slowly. ".repeat(8) }, 0, new Map());
    expect(long.entered).toMatch(/^Turn .*(?:the|switch|slowly\.|Turn)…$/u);
    expect(long.entered!.length).toBeLessThanOrEqual(81);
    expect(standingOfSheetStep({ ...step, do: "a".repeat(200) }, 0, new Map()).entered).toHaveLength(81);
  });
});
