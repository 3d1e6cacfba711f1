import { describe, expect, it } from "vitest";
import { figure, quantity, quantityWithInterval } from "./quantity.ts";

const written = (text: string): string => text.replaceAll("\u00a0", " ");

describe("quantity", () => {
  it.each([
    { value: 732_600, unit: "Ω", text: "732.6 kΩ" },
    { value: 24_000, unit: "Ω", text: "24 kΩ" },
    { value: 1_000_000, unit: "Ω", text: "1 MΩ" },
    { value: 999, unit: "Ω", text: "999 Ω" },
    { value: 0.4, unit: "Ω", text: "0.4 Ω" },
    { value: 1000, unit: "V", text: "1000 V" },
    { value: 11_480, unit: "W", text: "11.48 kW" },
    { value: -3, unit: "°C", text: "−3 °C" },
    { value: Infinity, unit: "Ω", text: "beyond measure" },
  ])("writes $value $unit as $text", ({ value, unit, text }) => {
    expect(written(quantity(value, unit))).toBe(text);
  });
});

describe("quantityWithInterval", () => {
  it("keeps the interval beside the value and in its unit", () => {
    const text = quantityWithInterval({ value: 10_320, low: 10_110, high: 10_540 }, "Ω");
    expect(written(text)).toBe("10.3 kΩ  10.1–10.5");
  });

  it("says when there is no upper end", () => {
    const text = quantityWithInterval({ value: 2e7, low: 1e7, high: Infinity }, "Ω");
    expect(written(text)).toBe("20 MΩ  10–beyond measure");
  });
});

describe("figure", () => {
  it("drops trailing zeros and writes a true minus", () => {
    expect(figure(-12.5)).toBe("−12.5");
    expect(figure(24.40001)).toBe("24.4");
  });
});
