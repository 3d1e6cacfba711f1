import { describe, expect, it } from "vitest";
import { figureText } from "./findings-text.ts";

describe("figureText", () => {
  it.each([
    { name: "loadVoltage", value: 10.1, text: "load voltage 10.1 V" },
    { name: "soundAtListener", value: 52.43, text: "sound at listener 52.43 dB(A)" },
    { name: "standbyHours", value: 70, text: "standby 70 h" },
    { name: "medianNoticeHours", value: 3.25, text: "median notice 3.25 h" },
    { name: "p95NoticeHours", value: 60, text: "95 % notice 60 h" },
    { name: "unnoticedAfter24h", value: 0.125, text: "unnoticed after 24 h 12.5 %" },
    { name: "passesPerDay", value: 6, text: "passes 6 a day" },
    { name: "recipients", value: 2, text: "recipients 2" },
  ])("writes $name as '$text'", ({ name, value, text }) => {
    expect(figureText(name, value).replaceAll("\u00a0", " ")).toBe(text);
  });

  it("never prints the end of the time followed as a value", () => {
    const plain = (name: string, value: number): string =>
      figureText(name, value, 672).replaceAll("\u00a0", " ");
    expect(plain("p95NoticeHours", 672)).toBe("95 % notice more than 28 days");
    expect(plain("medianNoticeHours", 33.13)).toBe("median notice 33.13 h");
  });
});
