import { describe, expect, it } from "vitest";
import { monthsLater } from "./proof.ts";

describe("monthsLater", () => {
  it.each([
    ["2026-02-03", 12, "2027-02-03"],
    ["2024-02-29", 12, "2025-02-28"],
    ["2023-02-28", 12, "2024-02-28"],
    ["2026-01-31", 1, "2026-02-28"],
    ["2026-12-15", 1, "2027-01-15"],
  ])("%s and %i months is %s", (date, months, later) => {
    expect(monthsLater(date, months)).toBe(later);
  });
});
