import { describe, expect, it } from "vitest";
import { figure, quantity, resistanceWithInterval } from "./quantity.ts";

const written = (text: string): string => text.replaceAll("\u00a0", " ");

describe("quantity", () => {
  it("keeps number and unit together and writes a true minus", () => {
    expect(quantity(732_600, "resistance")).toBe("732.6\u00a0kΩ");
    expect(quantity(-3, "temperature")).toBe("−3\u00a0°C");
  });

  it("has words for what no instrument can show", () => {
    expect(quantity(Infinity, "resistance")).toBe("beyond measure");
  });
});

describe("resistanceWithInterval", () => {
  it.each([
    { interval: { ohms: 10_320, low: 10_110, high: 10_540 }, text: "10.3 kΩ  10.1–10.5", why: "one unit" },
    { interval: { ohms: 1100, low: 950, high: 1300 }, text: "1.1 kΩ  950 Ω–1.3 kΩ", why: "two units" },
    { interval: { ohms: 2e7, low: 1e7, high: Infinity }, text: "20 MΩ  10 MΩ–beyond measure", why: "no end" },
  ])("writes $text with $why", ({ interval, text }) => {
    expect(written(resistanceWithInterval(interval))).toBe(text);
  });
});

describe("figure", () => {
  it("drops trailing zeros and writes a true minus", () => {
    expect(figure(-12.5)).toBe("−12.5");
    expect(figure(24.40001)).toBe("24.4");
  });
});
