import { describe, expect, it } from "vitest";
import { printable, withoutControls } from "./printable.ts";

describe("withoutControls", () => {
  it.each([
    { text: "Tarn Hill – 10 kΩ 屋根", safe: "Tarn Hill – 10 kΩ 屋根", why: "ordinary text stays" },
    { text: "\u001b[2Jgone", safe: "\ufffd[2Jgone", why: "an escape cannot clear the screen" },
    { text: "a\u0007\u009bb", safe: "a\ufffd\ufffdb", why: "bells and eight-bit controls go" },
    { text: "a\n\tb", safe: "a b", why: "line breaks and tabs become a space" },
    { text: "\u202egpj", safe: "\ufffdgpj", why: "writing is not turned round" },
  ])("$why", ({ text, safe }) => {
    expect(withoutControls(text)).toBe(safe);
  });
});

describe("printable", () => {
  it("reaches every text in a record and leaves numbers alone", () => {
    expect(printable({ id: "a\u0000", list: [{ text: "\u001b" }, 1, null, true] })).toEqual({
      id: "a\ufffd",
      list: [{ text: "\ufffd" }, 1, null, true],
    });
  });
});
