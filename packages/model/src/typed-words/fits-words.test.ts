import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitsFolded, fitsWords, folded } from "./fits-words.ts";

describe("words that somebody types", () => {
  it.each([
    ["hennick", "Hennick creamery", true],
    ["CREAM henn", "Hennick creamery", true],
    ["zoe", "Zoë Orr", true],
    ["Zoë", "ZOE ORR", true],
    ["hennick mill", "Hennick creamery", false],
    ["", "anything", true],
    ["  ", "anything", true],
    ["ﬁsh", "Fish quay", true],
  ])("%j in %j: %s", (typed, text, found) => {
    expect(fitsWords(typed)(text)).toBe(found);
    expect(fitsFolded(typed)(folded(text))).toBe(found);
  });

  it("are found in any text that holds them, in any order, whatever their case", () => {
    const word = fc.stringMatching(/^[a-zà-ÿ]{1,8}$/u);
    fc.assert(
      fc.property(fc.array(word, { minLength: 1, maxLength: 5 }), fc.gen(), (words, pick) => {
        const typed = pick(fc.shuffledSubarray, words).map((one) => one.toUpperCase());
        expect(fitsWords(typed.join(" "))(words.join(" "))).toBe(true);
      }),
    );
  });

  it("fold to the same however often, for every letter of the basic plane", () => {
    const signs = Array.from({ length: 0x1_0000 }, (_, code) => code)
      .filter((code) => code < 0xd800 || code > 0xdfff)
      .map((code) => String.fromCodePoint(code));
    expect(signs.filter((sign) => folded(folded(sign)) !== folded(sign))).toEqual([]);
  });
});
