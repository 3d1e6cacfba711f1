import type { Site } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import { CREAMERY_DAMAGE, demoDamage } from "./demo-damage.ts";

const site = (id: string): Site =>
  ({
    id,
    arrays: [
      {
        id: "A1",
        strings: [
          { id: "S1", modules: 9 },
          { id: "S2", modules: 13 },
        ],
      },
      { id: "A2", strings: [] },
    ],
  }) as unknown as Site;

describe("the damage of the demonstration", () => {
  it("lies on a string of its array, within its modules", () => {
    for (let seed = 1; seed < 200; seed++) {
      const [damage, ...others] = demoDamage([site("mill")], seed);
      expect(others).toEqual([]);
      const modules = damage!.string === "S1" ? 9 : 13;
      expect(damage!.at).toBeGreaterThanOrEqual(0);
      expect(damage!.at).toBeLessThanOrEqual(modules);
      expect(damage!.ohms).toBeGreaterThanOrEqual(2_000);
      expect(damage!.ohms).toBeLessThanOrEqual(20_000);
    }
  });

  it("is where the scenario's visit found it, for the creamery", () => {
    expect(demoDamage([site("creamery")], 3)).toEqual([CREAMERY_DAMAGE]);
  });

  it("is the same for the same seed", () => {
    expect(demoDamage([site("mill")], 8)).toEqual(demoDamage([site("mill")], 8));
  });
});
