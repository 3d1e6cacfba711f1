import { flashRate } from "@earthbell/engine";
import { describe, expect, it } from "vitest";

describe("IEC 60073 flash rates", () => {
  it.each([
    [84, 1.4, "normal"],
    [168, 2.8, "normal"],
    [83, 1.38, "neither"],
    [169, 2.82, "neither"],
    [24, 0.4, "slow"],
    [48, 0.8, "slow"],
    [49, 0.82, "neither"],
  ])("%i a minute is %f Hz, %s", (perMinute, hertz, kind) => {
    expect(flashRate(perMinute).hertz).toBeCloseTo(hertz, 2);
    expect(flashRate(perMinute).kind).toBe(kind);
  });
});
