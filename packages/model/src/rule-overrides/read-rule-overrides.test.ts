import { packsInForce, type RulePack, withOverrides } from "@earthbell/engine";
import { describe, expect, it } from "vitest";
import { malformed } from "../fixtures/malformed.ts";
import { MALFORMED_RULE_OVERRIDES } from "../fixtures/malformed-rule-overrides.ts";
import { RULE_OVERRIDES_YAML } from "../fixtures/rule-overrides-file.ts";
import { RULE_PACK_YAML } from "../fixtures/rule-pack-file.ts";
import { readRulePack } from "../rule-pack/read-rule-pack.ts";
import { readRuleOverrides } from "./read-rule-overrides.ts";
import { ruleOverridesText } from "./rule-overrides-text.ts";

const PACK = packOf(RULE_PACK_YAML);

function packOf(text: string): RulePack {
  const read = readRulePack(text, "skerry.yaml");
  if (!read.ok) throw new Error("the pack has faults");
  return read.record;
}

function overridesIn(text: string) {
  const read = readRuleOverrides(text, "o.yaml", [PACK]);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.record;
}

describe("a file of overrides", () => {
  it("is read into what the engine puts in the place of a pack's values", () => {
    const overrides = overridesIn(RULE_OVERRIDES_YAML);
    expect(withOverrides(PACK, overrides).insulationThreshold?.rows[0]?.ohms).toMatchObject({
      value: 40_000,
      source: expect.stringMatching(
        /^overridden by Ann Lee on 2026-03-02: the gazette corrected it \(from gazette 14\)/u,
      ) as unknown,
    });
    expect(packsInForce([PACK], overrides)[0]?.duty[0]?.when[0]).toMatchObject({ atMost: 150 });
  });

  it("as a desk hands it out is read back the same, with what was confirmed, whatever stands in its words", () => {
    const words = { because: 'it says "#3: yes", \\ no', source: "– é漢 {[", by: "O'Neill: Ann" };
    const overrides = overridesIn(RULE_OVERRIDES_YAML).map((one) => ({ ...one, ...words }));
    const onRecord = overrides.map((one, at) => ({ ...one, replaces: [30_000, 120][at]! }));
    const text = ruleOverridesText("Skerry: desk", onRecord, [PACK]);
    expect(overridesIn(text)).toEqual(onRecord);
    expect(text.match(/confirmed: true/gu)?.length).toBe(1);
    expect(overridesIn(ruleOverridesText("Skerry", [], [PACK]))).toEqual([]);
  });

  it.each(MALFORMED_RULE_OVERRIDES)("with $title is refused there, with $code", (row) => {
    const { text, code, line, column, field, says = "" } = malformed(RULE_OVERRIDES_YAML, row);
    const read = readRuleOverrides(text, "o.yaml", [PACK]);
    if (read.ok) throw new Error("It was read without a fault");
    const [fault, ...again] = read.faults.filter((found) => found.field === field);
    expect(again).toEqual([]);
    expect(fault, JSON.stringify(read.faults)).toMatchObject({ code, file: "o.yaml", line, column });
    expect(`${fault!.message} ${fault!.allowed}`).toContain(says);
  });

  it("is read also where the pack says another value by now, and the engine goes by the pack's own there", () => {
    // What is set aside is in force nowhere: a value that the pack itself has by now, or unconfirmed, is no fault.
    for (const value of [40_000, 30_000, 10_000]) {
      const text = RULE_OVERRIDES_YAML.replace(
        "value: 40000, replaces: 30000",
        `value: ${value}, replaces: 20000`,
      );
      const packs = packsInForce([PACK], overridesIn(text));
      expect(packs[0]?.insulationThreshold?.rows[0]?.ohms).toMatchObject({
        value: 30_000,
        source: expect.stringContaining("Set aside: the override of Ann Lee") as unknown,
      });
      expect(packs[0]?.duty[0]?.when[0]).toMatchObject({ atMost: 150 });
    }
  });

  it("has every fault named at once, and each with its own entry alone", () => {
    const broken = RULE_OVERRIDES_YAML.replace("value: 40000", "value: 0").replace(
      "value: 150",
      "value: 120",
    );
    const read = readRuleOverrides(broken, "o.yaml", [PACK]);
    expect(read.ok ? [] : read.faults.map(({ field, code, line }) => [line, field, code])).toEqual([
      [4, "overrides[0].confirmed", "RULES_OVERRIDE_WEAKER"],
      [4, "overrides[0].value", "RULES_OVERRIDE_VALUE"],
      [5, "overrides[1].value", "RULES_OVERRIDE_SAME"],
    ]);
  });
});
