import { describe, expect, it } from "vitest";
import { isUnheard } from "./hearing.ts";

const HEARD_AT = Date.UTC(2026, 5, 1, 8);
const after = (seconds: number, open: boolean, online = true) =>
  isUnheard({ open, online, heardAt: HEARD_AT, now: HEARD_AT + 1000 * seconds });

describe("a desk", () => {
  it("is heard while its thread is open and it says at times that it is there", () => {
    expect(after(20, true)).toBe(false);
  });

  it("is not told to be unheard for a thread that the browser takes up again at once", () => {
    expect(after(4, false)).toBe(false);
  });

  it("is unheard when the thread stays broken, or hangs open without a word, as with a plug that was pulled", () => {
    expect([after(15, false), after(60, true)]).toEqual([true, true]);
  });

  it("is unheard at once on a device that knows that it has no network", () => {
    expect(after(1, true, false)).toBe(true);
  });
});
