import { describe, expect, it } from "vitest";
import { checkDate, isCalendarDate } from "./date.ts";

describe("isCalendarDate", () => {
  it.each([
    { text: "2026-02-03", is: true, why: "an ordinary day" },
    { text: "2024-02-29", is: true, why: "a leap day" },
    { text: "2023-02-29", is: false, why: "no leap year" },
    { text: "2026-13-01", is: false, why: "no thirteenth month" },
    { text: "2026-2-3", is: false, why: "two digits each" },
    { text: "03/02/2026", is: false, why: "not this form" },
    { text: "", is: false, why: "nothing" },
  ])("answers $is to '$text': $why", ({ text, is }) => {
    expect(isCalendarDate(text)).toBe(is);
  });
});

describe("checkDate", () => {
  it("names the option, the value and the form", () => {
    const fault = checkDate("on", "tomorrow");
    expect(fault?.message).toContain("--on");
    expect(fault?.message).toContain("tomorrow");
    expect(fault?.message).toContain("YYYY-MM-DD");
    expect(checkDate("on", "2026-02-03")).toBeNull();
  });
});
