import { execFileSync } from "node:child_process";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { displayWidth, eachGrapheme, withoutInk } from "./width.ts";

describe("displayWidth", () => {
  it.each([
    { text: "", columns: 0, why: "nothing" },
    { text: "Tarn Hill", columns: 9, why: "ASCII" },
    { text: "10.3 kΩ", columns: 7, why: "Greek letters are narrow" },
    { text: "≥ 40 MΩ·m²", columns: 10, why: "signs of the trade are narrow" },
    { text: "屋根", columns: 4, why: "ideographs are wide" },
    { text: "ﾔﾈ", columns: 2, why: "halfwidth katakana are narrow" },
    { text: "e\u0301", columns: 1, why: "a combining accent sits on its letter" },
    { text: "\u1112\u1161\u11ab", columns: 2, why: "Hangul jamo make one wide syllable" },
    { text: "⚠\ufe0f", columns: 2, why: "a sign asked to show as emoji" },
    { text: "👷‍♀️", columns: 2, why: "a joined emoji is one" },
    { text: "🇦🇺", columns: 2, why: "a flag is one" },
    { text: "a\u200bb", columns: 2, why: "a zero-width space takes nothing" },
    { text: "\u001b[1;31m▲ Fault\u001b[0m", columns: 7, why: "colour codes take nothing" },
  ])("gives '$text' $columns columns: $why", ({ text, columns }) => {
    expect(displayWidth(text)).toBe(columns);
  });

  it("agrees with Python's unicodedata on every printable code point of the basic plane", () => {
    // Independent: CPython's copy of EastAsianWidth.txt. Marks and controls are left out: they have a width of none here.
    const script = [
      "import unicodedata as u",
      "for n in range(0x20, 0x10000):",
      "    c = chr(n)",
      "    if u.category(c)[0] in 'CMZ' or n in range(0x1160, 0x1200): continue",
      "    print(n, 2 if u.east_asian_width(c) in 'WF' else 1)",
    ].join("\n");
    const lines = execFileSync("/usr/bin/python3", ["-c", script], { encoding: "utf8" }).trim().split("\n");
    const disagreements = lines.filter((line) => {
      const [codePoint, columns] = line.split(" ").map(Number);
      return displayWidth(String.fromCodePoint(codePoint!)) !== columns;
    });
    expect(lines.length).toBeGreaterThan(50_000);
    expect(disagreements).toEqual([]);
  }, 60_000);

  it("is the sum of its graphemes", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), (text) => {
        const sum = [...eachGrapheme(text)].reduce((columns, one) => columns + one.columns, 0);
        expect(displayWidth(text)).toBe(sum);
      }),
    );
  });
});

describe("withoutInk", () => {
  it("takes the colour codes out and leaves the words", () => {
    expect(withoutInk("\u001b[38;5;173mnext\u001b[0m point")).toBe("next point");
  });
});
