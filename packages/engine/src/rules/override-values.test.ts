import { describe, expect, it } from "vitest";
import { assessSite } from "../assess/assess.ts";
import { BUILT_IN_PACKS } from "./built-in-packs.ts";
import {
  directionOf,
  isAside,
  isOverridden,
  overridesSetAside,
  packsInForce,
  setAsideWords,
  type ValueOverride,
  withOverrides,
} from "./override-values.ts";
import { overridableValues } from "./overridable-values.ts";
import { PACK, SITE } from "./skerry.fixture.ts";

const override = (field: string, value: number): ValueOverride => ({
  ...{ pack: PACK.id, field, value, because: "the island's gazette corrected it." },
  ...{ source: "gazette 14", by: "Ann Lee", on: "2026-11-26" },
});

describe("values of a rule pack that may be replaced", () => {
  it("are its numbers, each with its unit, its source and the direction that is safer", () => {
    expect(overridableValues(PACK).map(({ field, unit, safer }) => [field, unit, safer])).toEqual([
      ["duty[0].when[0].atMost", "V", "lower"],
      ["alarm.leastAddresses", "addresses", "higher"],
      ["insulationThreshold.rows[0].ohms", "Ω", "higher"],
      ["residual[0].milliamps", "mA", "lower"],
    ]);
  });

  it("are found again at their place in every pack that comes with the program", () => {
    for (const pack of BUILT_IN_PACKS)
      for (const { field, value } of overridableValues(pack)) {
        const amended = withOverrides(pack, [{ ...override(field, value + 1), pack: pack.id }]);
        expect(overridableValues(amended).find((one) => one.field === field)).toMatchObject({
          value: value + 1,
          tag: "user",
        });
      }
  });
});

describe("a replaced value", () => {
  it("says by whom, when, why, from what and in place of what", () => {
    const { insulationThreshold } = withOverrides(PACK, [override("insulationThreshold.rows[0].ohms", 4e4)]);
    expect(insulationThreshold?.rows[0]?.ohms).toEqual({
      value: 40_000,
      source:
        "overridden by Ann Lee on 2026-11-26: the island's gazette corrected it (from gazette 14); in place of 30000 Ω, table 1 [memory]",
      tag: "user",
    });
    expect(PACK.insulationThreshold?.rows[0]?.ohms.value).toBe(30_000);
  });

  it("that is a bound of a row is told by the row", () => {
    const { duty } = withOverrides(PACK, [override("duty[0].when[0].atMost", 60)]);
    expect(duty[0]).toMatchObject({ when: [{ fact: "max-voltage", atMost: 60 }], tag: "user" });
    expect(duty[0]?.source).toMatch(/^overridden by Ann Lee .* in place of 120 V, clause 3 \[memory\]$/u);
  });

  it("is used and named by the assessment", () => {
    const packs = packsInForce([PACK], [override("insulationThreshold.rows[0].ohms", 4e4)]);
    const { arrays } = assessSite(SITE, { packs });
    expect(arrays[0]?.insulationThreshold).toMatchObject({ ohms: 40_000, tag: "user" });
    expect(arrays[0]?.insulationThreshold?.source).toMatch(/^overridden by Ann Lee on 2026-11-26: /u);
  });

  it("of a pack or a field that is not there changes nothing", () => {
    expect(packsInForce([PACK], [override("residual[7].milliamps", 1)])).toEqual([PACK]);
    expect(packsInForce([PACK], [{ ...override("x", 1), pack: "other" }])).toEqual([PACK]);
  });
});

describe("an override of which the pack says another value by now", () => {
  const THRESHOLD = "insulationThreshold.rows[0].ohms";
  const stale = { ...override(THRESHOLD, 4e4), replaces: 2e4 };

  it("is set aside: the pack's own value holds, and its source says so and what to do", () => {
    const [pack] = packsInForce([PACK], [stale]);
    const row = pack?.insulationThreshold?.rows[0]?.ohms;
    expect(row).toEqual({
      value: 30_000,
      source:
        "table 1. ◇ Set aside: the override of Ann Lee on 2026-11-26 (40000 Ω in place of 20000 Ω: the island's gazette corrected it, from gazette 14), since the pack itself says 30000 Ω by now, and that holds. Look at it again: override it anew, or take it back.",
      tag: "memory",
    });
    expect([isOverridden(row!), isAside(row!)]).toEqual([false, true]);
    expect(assessSite(SITE, { packs: [pack!] }).arrays[0]?.insulationThreshold).toMatchObject({
      ohms: 30_000,
    });
  });

  it("is in force while the pack says what it said, and where that is not known", () => {
    for (const one of [{ ...stale, replaces: 3e4 }, override(THRESHOLD, 4e4)]) {
      expect(withOverrides(PACK, [one]).insulationThreshold?.rows[0]?.ohms.value).toBe(40_000);
      expect(overridesSetAside([PACK], [one])).toEqual([]);
    }
  });

  it("of a bound of a row is told by the row, whose bound stays", () => {
    const { duty } = withOverrides(PACK, [{ ...override("duty[0].when[0].atMost", 60), replaces: 100 }]);
    expect(duty[0]).toMatchObject({ when: [{ fact: "max-voltage", atMost: 120 }], tag: "memory" });
    expect(duty[0]?.source).toMatch(/^clause 3\. ◇ Set aside: /u);
  });

  it("is named, as is one of a pack or a place that is gone", () => {
    const gone = override("residual[7].milliamps", 1);
    const elsewhere = { ...override("x", 1), pack: "other" };
    const found = overridesSetAside([PACK], [stale, gone, elsewhere]);
    expect(found.map(({ override: { field }, holds }) => [field, holds?.value ?? null])).toEqual([
      [THRESHOLD, 30_000],
      ["residual[7].milliamps", null],
      ["x", null],
    ]);
    expect(setAsideWords(found[1]!)).toContain("the pack has no such value any more");
  });
});

describe("the direction of a change", () => {
  it.each([
    ["lower insulation threshold", { value: 3e4, safer: "higher" }, 2e4, "weaker"],
    ["higher insulation threshold", { value: 3e4, safer: "higher" }, 4e4, "stronger"],
    ["higher residual current", { value: 300, safer: "lower" }, 500, "weaker"],
    ["other test voltage", { value: 500, safer: null }, 1000, "unknown"],
    ["the same value", { value: 300, safer: "lower" }, 300, null],
  ] as const)("%s", (_, known, wanted, direction) => {
    expect(directionOf(known, wanted)).toBe(direction);
  });
});
