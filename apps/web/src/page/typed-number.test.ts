import { describe, expect, it } from "vitest";
import { withDecimalPoint } from "./typed-number.ts";

describe("a typed number", () => {
  it.each([
    ["0,5", "0.5"],
    [" 12,25 ", " 12.25 "],
    ["1,000", "1,000"],
    ["0.5", "0.5"],
    ["1,5 kΩ", "1,5 kΩ"],
  ])("%s is written %s", (typed, written) => {
    expect(withDecimalPoint(typed)).toBe(written);
  });
});
