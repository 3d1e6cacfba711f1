import { describe, expect, it } from "vitest";
import { sheetText } from "./sheet.ts";

describe("sheetText", () => {
  it("ends every line and writes ordinary spaces", () => {
    expect(sheetText(["10\u00a0kΩ", "b"], false)).toBe("10 kΩ\nb\n");
  });

  it("prints nothing for no lines", () => {
    expect(sheetText([], false)).toBe("");
  });

  it("writes the signs of the trade in ASCII when asked, and a question mark for the rest", () => {
    expect(sheetText(["−3 °C, ≥ 40 MΩ·m², 屋根"], true)).toBe("-3 C, >= 40 Mohm.m2, ??\n");
  });

  it("keeps colour codes", () => {
    expect(sheetText(["\u001b[1mx\u001b[0m"], true)).toBe("\u001b[1mx\u001b[0m\n");
  });
});
