import { BUILT_IN_PACKS } from "@earthbell/engine";
import { describe, expect, test } from "vitest";
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
});
