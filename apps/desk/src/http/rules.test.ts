import { BUILT_IN_PACKS } from "@earthbell/engine";
import { readRuleOverrides } from "@earthbell/model";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { makePersonToken, makeSiteToken } from "./make-token.ts";
import { CREAMERY, DAWN, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

/** The row of the Australian table that the creamery's array falls in, and the threshold by it. */
const PACK = "au-nz-5033-2021";
const FIELD = "alarm.leastAddresses";
const GOOD = {
  ...{ pack: PACK, field: FIELD, value: 3, because: "the island asks for three" },
  source: "letter of the authority, 2 March",
};

let desk: ServedDesk;
let person: string;
let now: number;
beforeEach(async () => {
  now = DAWN;
  desk = await servedDesk(() => now);
  person = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: DAWN });
  await desk.watch.putSite(CREAMERY, "Ann Lee");
});
afterEach(() => desk.close());

interface Said {
  readonly error: { readonly code: string; readonly faults: readonly Readonly<Record<string, unknown>>[] };
}

async function ask(method: "GET" | "POST", url: string, payload?: object, token = person) {
  const headers = { authorization: `Bearer ${token}` };
  const sent = payload === undefined ? {} : { payload };
  const reply = await desk.app.inject({ method, url, headers, ...sent });
  return { status: reply.statusCode, body: reply.json<Said>() };
}
const overrides = async () =>
  (await ask("GET", "/api/rules/overrides")).body as unknown as readonly {
    readonly id: string;
    readonly ended: unknown;
  }[];
const journal = () =>
  desk.store.db
    .selectFrom("journal")
    .select(["by", "text"])
    .where("subject", "=", `rules ${PACK}`)
    .orderBy("sequence")
    .execute();

/** An override as it was put when the pack said something else. */
async function keepFromBefore(
  id: string,
  row: { readonly pack?: string; readonly field: string; readonly value: number; readonly replaced: number },
): Promise<void> {
  const said = {
    pack: PACK,
    because: "the island asks for more",
    source: "letter",
    by: "Ann Lee",
    put_at: DAWN,
  };
  await desk.store.amend((tx) =>
    tx
      .insertInto("rule_override")
      .values({ id, ...said, ...row, ended_at: null, ended_by: null, ended_because: null })
      .execute(),
  );
}

describe("a value of a rule pack that is overridden", () => {
  it("is on record with what it replaces, by whom, when, why and from what", async () => {
    expect((await ask("POST", "/api/rules/overrides", GOOD)).status).toBe(200);
    expect(await overrides()).toMatchObject([
      { ...GOOD, replaced: 2, by: "Ann Lee", putAt: DAWN, ended: null },
    ]);
    const [row] = await journal();
    expect(row?.by).toBe("Ann Lee");
    expect(row?.text).toContain("3 addresses in place of 2 addresses. Because: the island asks for three");
  });

  it("is revised from what was in force, and the one before stays on record", async () => {
    await ask("POST", "/api/rules/overrides", GOOD);
    const [first] = await overrides();
    const revised = { ...GOOD, value: 4, instead: first!.id };
    expect((await ask("POST", "/api/rules/overrides", revised)).status).toBe(200);
    const late = await ask("POST", "/api/rules/overrides", { ...GOOD, value: 5, instead: first!.id });
    expect([late.status, late.body.error.code]).toEqual([409, "RULES_OVERRIDE_CHANGED"]);
    const rows = (await overrides()) as readonly { readonly value?: number; readonly ended: unknown }[];
    expect(rows.map(({ value, ended }) => [value, ended === null]).sort()).toEqual([
      [3, false],
      [4, true],
    ]);
  });

  it("is taken back with a reason, once", async () => {
    await ask("POST", "/api/rules/overrides", GOOD);
    const [{ id } = { id: "" }] = await overrides();
    const url = `/api/rules/overrides/${id}/end`;
    expect((await ask("POST", url, { because: "" })).status).toBe(400);
    expect((await ask("POST", url, { because: "the letter was withdrawn" })).status).toBe(200);
    expect((await ask("POST", url, { because: "again, please" })).status).toBe(404);
    expect((await overrides())[0]?.ended).toMatchObject({
      by: "Ann Lee",
      because: "the letter was withdrawn",
    });
    expect((await journal()).at(-1)?.text).toContain("taken back: 2 in place of 3 again");
  });

  it("is set aside where the pack says another value by now, and taken back where it says none", async () => {
    await keepFromBefore("old", { field: FIELD, value: 5, replaced: 1 });
    await keepFromBefore("gone", { field: "alarm.leastBells", value: 5, replaced: 1 });
    // Another override of the pack: the rules are read anew.
    const other = { ...GOOD, field: "alarm.repeatEveryMinutes", value: 30 };
    expect((await ask("POST", "/api/rules/overrides", other)).status).toBe(200);
    const lines = (await overrides()) as unknown as readonly {
      readonly id: string;
      readonly setAside: { readonly text: string; readonly gone: boolean } | null;
    }[];
    const aside = new Map(lines.map(({ id, setAside }) => [id, setAside]));
    expect(aside.get("old")).toMatchObject({ gone: false });
    expect(aside.get("old")?.text).toContain("since the pack itself says 2 addresses by now, and that holds");
    expect(aside.get("gone")).toMatchObject({ gone: true });
    expect([...aside.values()].filter((one) => one === null)).toHaveLength(1);
    const { body } = await ask("GET", "/api/now");
    const { setAside } = body as unknown as { readonly setAside: readonly { readonly field: string }[] };
    expect(setAside.map(({ field }) => field).sort()).toEqual(["alarm.leastAddresses", "alarm.leastBells"]);
    const file = await desk.app.inject({
      ...{ method: "GET", url: "/api/rules/overrides/file" },
      headers: { authorization: `Bearer ${person}` },
    });
    const read = readRuleOverrides(file.body, "overrides.yaml", BUILT_IN_PACKS);
    // A command line sets aside the one as well; the other has no place in any pack that it holds.
    expect(
      read.ok ? read.record.map(({ field, replaces }) => [field, replaces]).sort() : read.faults,
    ).toEqual([
      ["alarm.leastAddresses", 1],
      ["alarm.repeatEveryMinutes", 60],
    ]);
    const again = { ...GOOD, value: 3, instead: "old" };
    expect((await ask("POST", "/api/rules/overrides", again)).status).toBe(200);
    expect((await ask("POST", "/api/rules/overrides/gone/end", { because: "it has no place" })).status).toBe(
      200,
    );
    expect((await ask("GET", "/api/now")).body).toMatchObject({ setAside: [] });
  });

  it("that is set aside moves no threshold, and papers say beside the pack's own value that it is", async () => {
    const { pack, field, value } = await rowOf(30_000);
    await keepFromBefore("old", { pack, field, value: 3 * value, replaced: 2 * value });
    expect((await ask("POST", "/api/rules/overrides", GOOD)).status).toBe(200);
    const draft = await ask("POST", "/api/papers/drafts", { kind: "design-record", site: "creamery" });
    const { draft: id } = draft.body as unknown as { readonly draft: string };
    const headers = { authorization: `Bearer ${person}` };
    const paper = await desk.app.inject({ method: "GET", url: `/api/papers/drafts/${id}`, headers });
    expect(paper.body).toContain("Rule values of which an override was set aside");
    expect(paper.body).toContain("since the pack itself says 30000\u00a0Ω by now, and that holds");
    expect(paper.body).not.toContain("overridden by Ann Lee");
    const { limits_json } = await desk.store.db
      .selectFrom("site")
      .select("limits_json")
      .executeTakeFirstOrThrow();
    expect(JSON.parse(limits_json)).toMatchObject({ A1: { insulationThreshold: { value: 30_000 } } });
  });

  it("is what the watch goes by at once, and what papers say, with its source", async () => {
    const threshold = async (): Promise<number | undefined> => {
      const { limits_json } = await desk.store.db
        .selectFrom("site")
        .select("limits_json")
        .where("id", "=", "creamery")
        .executeTakeFirstOrThrow();
      const limits = JSON.parse(limits_json) as Record<string, { insulationThreshold: { value: number } }>;
      return limits["A1"]?.insulationThreshold.value;
    };
    const before = await threshold();
    expect(before).toBeGreaterThan(0);
    const { pack, field, value } = await rowOf(before!);
    const asked = { ...GOOD, pack, field, value: value * 2 };
    expect((await ask("POST", "/api/rules/overrides", asked)).status).toBe(200);
    expect(await threshold()).toBe(2 * before!);
    const draft = await ask("POST", "/api/papers/drafts", { kind: "design-record", site: "creamery" });
    const { draft: id } = draft.body as unknown as { readonly draft: string };
    const headers = { authorization: `Bearer ${person}` };
    const paper = await desk.app.inject({ method: "GET", url: `/api/papers/drafts/${id}`, headers });
    expect(paper.body).toContain("overridden by Ann Lee on 2026-11-24: the island asks for three");
  });
});

describe("overrides handed out as a file", () => {
  const handedOut = (token: string) =>
    desk.app.inject({
      method: "GET",
      url: "/api/rules/overrides/file",
      headers: { authorization: `Bearer ${token}` },
    });

  it("are those in force, as the command line reads them", async () => {
    await ask("POST", "/api/rules/overrides", GOOD);
    await ask("POST", "/api/rules/overrides", { ...GOOD, field: "alarm.repeatEveryMinutes", value: 30 });
    const [last] = await overrides();
    await ask("POST", `/api/rules/overrides/${last!.id}/end`, { because: "the letter was withdrawn" });
    const file = await handedOut(person);
    expect(file.headers["content-disposition"]).toBe('attachment; filename="rule-overrides.yaml"');
    const read = readRuleOverrides(file.body, "rule-overrides.yaml", BUILT_IN_PACKS);
    const kept = (await overrides()).find(({ ended }) => ended === null) as unknown as { field: string };
    expect(read).toMatchObject({
      ok: true,
      record: [{ pack: PACK, field: kept.field, by: "Ann Lee", on: "2026-11-24" }],
    });
  });

  it("are for those who see the rules", async () => {
    const token = (await makeSiteToken(desk.store, "creamery", { label: "x", by: "x", at: DAWN }))!;
    expect((await handedOut(token)).statusCode).toBe(403);
    expect((await desk.app.inject("/api/rules/overrides/file")).statusCode).toBe(401);
  });
});

describe("papers that were issued", () => {
  const issue = (kind: string) => ask("POST", "/api/papers", { kind, site: "creamery", formats: ["html"] });
  const states = async () => {
    const one = (await ask("GET", "/api/sites/creamery/papers")).body as unknown as readonly {
      readonly kind: string;
      readonly state: string;
      readonly language: string;
    }[];
    const all = (await ask("GET", "/api/papers")).body as unknown as {
      readonly sites: readonly { readonly papers: Readonly<Record<string, string>> }[];
    };
    const told = (kind: string) =>
      one.find((line) => line.kind === kind && line.language === "en")?.state ?? "none";
    return ["owner-notice", "design-record", "commissioning-record"].map((kind) => {
      expect(all.sites[0]?.papers[kind]).toBe(told(kind));
      return told(kind);
    });
  };

  it("are outdated by an override of a value they rest on, and by no other, and current once it is taken back", async () => {
    for (const kind of ["owner-notice", "design-record", "commissioning-record"])
      expect((await issue(kind)).status).toBe(200);
    expect(await states()).toEqual(["current", "current", "current"]);
    // Of another edition than the one that binds the creamery.
    expect((await ask("POST", "/api/rules/overrides", GOOD)).status).toBe(200);
    expect(await states()).toEqual(["current", "current", "current"]);
    const { pack, field, value } = await rowOf(30_000);
    await ask("POST", "/api/rules/overrides", { ...GOOD, pack, field, value: 2 * value });
    expect(await states()).toEqual(["current", "outdated", "outdated"]);
    const lines = (await overrides()) as readonly { readonly id: string; readonly pack?: string }[];
    const { id } = lines.find((line) => line.pack === pack)!;
    await ask("POST", `/api/rules/overrides/${id}/end`, { because: "the letter was withdrawn" });
    expect(await states()).toEqual(["current", "current", "current"]);
  });
});

/** The row of a built-in pack from which a threshold of the creamery is. */
async function rowOf(threshold: number) {
  const { overridableValues, assessSite } = await import("@earthbell/engine");
  const { readSite } = await import("@earthbell/model");
  const read = readSite(CREAMERY, "creamery.yaml");
  if (!read.ok) throw new Error("the site file has faults");
  const id = assessSite(read.record, { onDate: "2026-11-25" }).arrays[0]!.duty.rulePack;
  const pack = BUILT_IN_PACKS.find((one) => one.id === id)!;
  const row = overridableValues(pack).find(
    ({ field, value }) => field.startsWith("insulationThreshold") && value === threshold,
  )!;
  return { pack: pack.id, field: row.field, value: row.value };
}

describe("an override that is not sound is refused with its code, field, value and what is allowed", () => {
  it.each([
    ["a pack that is not there", { pack: "nowhere" }, "RULES_OVERRIDE_UNKNOWN", "pack"],
    ["a value that is not there", { field: "alarm.colour" }, "RULES_OVERRIDE_UNKNOWN", "field"],
    ["a value that is no count", { value: 2.5 }, "RULES_OVERRIDE_VALUE", "value"],
    ["a value out of range", { value: 5000 }, "RULES_OVERRIDE_VALUE", "value"],
    ["the value that it has", { value: 2 }, "RULES_OVERRIDE_SAME", "value"],
    ["no reason", { because: " " }, "RULES_OVERRIDE_REASON", "because"],
    ["no source", { source: "" }, "RULES_OVERRIDE_REASON", "source"],
    ["a weaker value, unconfirmed", { value: 1 }, "RULES_OVERRIDE_WEAKER", "confirmed"],
  ])("%s", async (_, change, code, field) => {
    const { status, body } = await ask("POST", "/api/rules/overrides", { ...GOOD, ...change });
    expect([status, body.error.code]).toEqual([422, code]);
    const [fault] = body.error.faults;
    expect(fault).toMatchObject({ code, field });
    expect(String(fault?.["allowed"])).not.toBe("");
    expect(await overrides()).toEqual([]);
  });

  it("naming every fault at once", async () => {
    const bad = { ...GOOD, value: 0, because: "", source: "" };
    const { body } = await ask("POST", "/api/rules/overrides", bad);
    expect(body.error.faults.map(({ field }) => field)).toEqual(["because", "source", "value", "confirmed"]);
  });

  it("and a weaker one is taken once it is confirmed", async () => {
    const weaker = { ...GOOD, value: 1, confirmed: true };
    expect((await ask("POST", "/api/rules/overrides", weaker)).status).toBe(200);
  });

  it("nor does anybody else than those who run the desk override", async () => {
    const token = (await makeSiteToken(desk.store, "creamery", { label: "x", by: "x", at: DAWN }))!;
    expect((await ask("POST", "/api/rules/overrides", GOOD, token)).status).toBe(403);
    expect(await overrides()).toEqual([]);
  });
});
