import { BUILT_IN_PACKS } from "@earthbell/engine";
import { describe, expect, test } from "vitest";
import { malformed } from "../fixtures/malformed.ts";
import { MALFORMED_RULE_PACKS } from "../fixtures/malformed-rule-pack.ts";
import { RULE_PACK_YAML } from "../fixtures/rule-pack-file.ts";
import { readRulePack } from "./read-rule-pack.ts";

describe("readRulePack", () => {
  test.each(BUILT_IN_PACKS.map((pack) => [pack.id, pack] as const))(
    "reads the built-in pack %s unchanged",
    (_, pack) => {
      expect(readRulePack(JSON.stringify(pack, null, 2), "pack.json")).toEqual({
        ok: true,
        record: pack,
        warnings: [],
      });
    },
  );

  test("reads a pack with every kind of row", () => {
    expect(readRulePack(RULE_PACK_YAML, "skerry.yaml")).toMatchObject({
      ok: true,
      record: { id: "skerry-2020", duty: [{ alarm: "not-required" }, { alarm: "undecided" }] },
    });
  });

  test.each(MALFORMED_RULE_PACKS)("points at $title with $code", (row) => {
    const { text, code, line, column, field, says = "" } = malformed(RULE_PACK_YAML, row);
    const result = readRulePack(text, "skerry.yaml");
    if (result.ok) throw new Error("It was read without a fault");
    const [fault, ...again] = result.faults.filter((found) => found.field === field);
    expect(again).toEqual([]);
    expect(fault, JSON.stringify(result.faults)).toMatchObject({ code, file: "skerry.yaml", line, column });
    expect(`${fault!.message} ${fault!.allowed}`).toContain(says);
  });
});
