import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { oneLine } from "./one-line.ts";

describe("one line", () => {
  it.each<[string, string, number, string]>([
    ["a plain name stays", "Tarn Mill", 80, "Tarn Mill"],
    ["line ends become a space", "Tarn\r\nBcc: x", 80, "Tarn Bcc: x"],
    ["other line ends too", "Tarn\u2028Mill\u0085x", 80, "Tarn Mill x"],
    ["marks of direction go", "Tarn\u202ellim", 80, "Tarn llim"],
    ["half a character is replaced", "Tarn\ud83d", 80, "Tarn\ufffd"],
    ["an emoji of several parts stays", "👩‍🔧 Tarn", 80, "👩‍🔧 Tarn"],
    ["and is not cut in two", "abc👩‍🔧👩‍🔧def", 5, "abc👩‍🔧…"],
    ["the longest name still stays whole", "👩‍🔧👩‍🔧👩‍🔧", 3, "👩‍🔧👩‍🔧👩‍🔧"],
    ["a tower of marks counts as broken", `a${"\u0301".repeat(50)}bcdefghij`, 10, "\ufffdbcdefghij"],
    ["nothing is nothing", " \n ", 80, ""],
  ])("%s", (_, text, longest, line) => {
    expect(oneLine(text, longest)).toBe(line);
  });

  it("holds no control character and is never longer than asked", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), fc.integer({ min: 1, max: 60 }), (text, longest) => {
        const line = oneLine(text, longest);
        expect(line).not.toMatch(/[\p{Cc}\p{Cs}\u2028\u2029\u202a-\u202e\u2066-\u2069]/u);
        expect(line.length).toBeLessThanOrEqual(16 * longest);
      }),
    );
  });
});
