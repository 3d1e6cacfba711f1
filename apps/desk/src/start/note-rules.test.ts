import { BUILT_IN_PACKS, type RulePack } from "@earthbell/engine";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { OwnPack } from "../settings/set-up.ts";
import { noteRules } from "./note-rules.ts";
import { type DeskStore, openStore } from "../store/index.ts";
import { openRuleBook } from "../rules/rule-book.ts";

const PUT_AT = Date.UTC(2026, 2, 2);
const FIELD = "alarm.leastAddresses";
const PACK = BUILT_IN_PACKS.find(({ id }) => id === "au-nz-5033-2014")!;
const SAID = PACK.alarm!.leastAddresses!.value;
let store: DeskStore;

beforeEach(async () => {
  store = await openStore({ kind: "sqlite", file: ":memory:" });
  const row = { id: "one", pack: PACK.id, field: FIELD, value: SAID + 3, replaced: SAID };
  const said = { because: "the island asks for more", source: "letter", by: "Ann Lee", put_at: PUT_AT };
  const ended = { ended_at: null, ended_by: null, ended_because: null };
  await store.amend((tx) =>
    tx
      .insertInto("rule_override")
      .values({ ...row, ...said, ...ended })
      .execute(),
  );
});
afterEach(() => store.close());

/** The pack of a folder, saying another number of addresses than the one that comes with the program. */
function packSaying(value: number): OwnPack {
  const pack = structuredClone(PACK) as { -readonly [K in keyof RulePack]: RulePack[K] };
  pack.alarm = { ...PACK.alarm!, leastAddresses: { ...PACK.alarm!.leastAddresses!, value } };
  return { file: "own.yaml", digest: "0".repeat(64), pack };
}

/** A start of the desk, as far as rules are noted; what is on record of them after it. */
async function start(own: readonly OwnPack[]): Promise<readonly string[]> {
  const rules = await openRuleBook(store, own);
  await noteRules(store, rules, PUT_AT + 1);
  const rows = await store.db
    .selectFrom("journal")
    .select(["text", "by", "subject"])
    .orderBy("sequence")
    .execute();
  expect(rows.every(({ subject }) => subject === `rules ${PACK.id}`)).toBe(true);
  return rows.map(({ text }) => text);
}

describe("an override that the packs of a start set aside", () => {
  it("is on record once, however often the desk starts", async () => {
    const own = [packSaying(SAID + 1)];
    await start(own);
    const texts = await start(own);
    expect(texts).toHaveLength(2);
    expect(texts[0]).toContain("Decisions go by");
    expect(texts[1]).toContain(`Override of ${PACK.id}, ${FIELD}. Set aside: the override of Ann Lee`);
    expect(texts[1]).toContain(`since the pack itself says ${String(SAID + 1)} addresses by now`);
  });

  it("is on record as in force again once the pack says what it said, and set aside anew", async () => {
    await start([packSaying(SAID + 1)]);
    await start([]);
    await start([]);
    const texts = (await start([packSaying(SAID + 2)])).filter((text) => text.startsWith("Override of"));
    expect(
      texts.map((text) => text.slice(`Override of ${PACK.id}, ${FIELD}`.length, -1).slice(0, 16)),
    ).toEqual([". Set aside: the", " in force again:", ". Set aside: the"]);
  });

  it("leaves no word where none is set aside", async () => {
    expect(await start([])).toEqual([]);
  });
});
