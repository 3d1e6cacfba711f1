import { resistorDerating } from "@earthbell/engine";
import { describe, expect, it } from "vitest";

describe("line from 70 °C to 155 °C", () => {
  it.each([
    [20, 1],
    [70, 1],
    [100, 0.647],
    [155, 0],
    [160, 0],
  ])("at %i °C: %f of the rating", (celsius, share) => {
    expect(resistorDerating(celsius)).toBeCloseTo(share, 3);
  });
});
