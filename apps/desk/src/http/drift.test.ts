import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { makePersonToken } from "./make-token.ts";
import { CREAMERY, DAWN as NOW, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

const DAY_MS = 86_400_000;
let desk: ServedDesk;
let token: string;
let now = NOW;

beforeEach(async () => {
  now = NOW;
  desk = await servedDesk(() => now);
  token = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: NOW });
  for (const [site, module] of [
    ["sound", "M1"],
    ["sinking", "M2"],
  ] as const)
    await ask("PUT", `/api/sites/${site}`, siteFile(site, module));
});
afterEach(() => desk.close());

const siteFile = (id: string, module: string): string =>
  CREAMERY.replace("id: creamery", `id: ${id}`).replaceAll("M260", module);

async function ask(method: "GET" | "PUT" | "POST", url: string, body?: string, type = "text/yaml") {
  const headers = { authorization: `Bearer ${token}` };
  const reply = await desk.app.inject({
    method,
    url,
    headers: body === undefined ? headers : { ...headers, "content-type": type },
    ...(body === undefined ? {} : { payload: body }),
  });
  return { status: reply.statusCode, said: reply.json<Answer>() };
}

interface Answer {
  readonly pending: number;
  readonly fleet: {
    readonly judged: number;
    readonly drifting: number;
    readonly ranking: readonly { array: string; days: number | null; consequence: number }[];
    readonly groups: readonly { trait: string; name: string; drifting: number }[];
  };
  readonly error: { readonly faults: readonly { line: number | null }[] };
}

/** Two years of dry mornings: one array stays as it is, the other loses nine tenths of its insulation in the second year. */
async function pushHistories(): Promise<void> {
  for (const [site, sinks] of [
    ["sound", 0],
    ["sinking", 1],
  ] as const) {
    const rows = Array.from({ length: 730 }, (_, day) => {
      const at = new Date(NOW - (730 - day) * DAY_MS).toISOString();
      const share = 10 ** (-sinks * Math.max(0, (day - 365) / 365));
      const ohms = Math.round(2e6 * share * (1 + 0.05 * Math.sin(day)));
      return `${at},A1,${ohms}`;
    });
    const table = ["instant,array,insulation (Ω)", ...rows].join("\n");
    const { status } = await ask("POST", `/api/push/table?site=${site}&device=logger`, table, "text/csv");
    expect(status).toBe(200);
  }
}

describe("drift of the fleet", () => {
  it("ranks arrays by when they reach their threshold, and compares what they are", async () => {
    await pushHistories();
    const { said } = await ask("GET", "/api/drift?by=days");
    expect(said).toMatchObject({ pending: 0, fleet: { judged: 2, drifting: 1 } });
    expect(said.fleet.ranking.map(({ array }) => array)).toEqual(["sinking/A1", "sound/A1"]);
    expect(said).toMatchObject({ moreGroups: 0, names: { sinking: "Hennick creamery" } });
    expect(said.fleet.ranking[0]!.days).toBeGreaterThan(0);
    expect(said.fleet.groups.filter(({ drifting }) => drifting > 0)).toMatchObject([
      { trait: "site", name: "sinking" },
      { trait: "module", name: "M2" },
    ]);
  });

  it("takes connectors, batches and consequence from a table, and names a wrong cell by its line", async () => {
    await pushHistories();
    const table = "array,batch,consequence\nsinking/A1,B7,3\nsound/A1,B8,1\n";
    const { said } = await ask("POST", "/api/drift", table, "text/csv");
    expect(said.fleet.ranking[0]).toMatchObject({ array: "sinking/A1", consequence: 3 });
    expect(said.fleet.groups.map(({ name }) => name)).toContain("B7");
    const wrong = await ask("POST", "/api/drift", table.replace(",3", ",much"), "text/csv");
    expect(wrong).toMatchObject({ status: 422, said: { error: { faults: [{ line: 2 }] } } });
  });

  it("says the same again without reading what has not changed", async () => {
    await pushHistories();
    const first = await ask("GET", "/api/drift");
    await desk.store.amend((tx) => tx.deleteFrom("insulation_day").execute());
    expect((await ask("GET", "/api/drift")).said).toEqual(first.said);
  });

  it("says nothing of a site that is not watched any more, though others of the fleet are", async () => {
    await ask("PUT", "/api/sites/zinc", siteFile("zinc", "M3"));
    await pushHistories();
    await desk.watch.removeSite("sound", "test");
    const { said } = await ask("GET", "/api/drift");
    expect(said.fleet.ranking.map(({ array }) => array)).toEqual(["sinking/A1"]);
  });

  it("says nothing of arrays that were never heard", async () => {
    expect((await ask("GET", "/api/drift")).said).toMatchObject({ pending: 0, fleet: { arrays: 0 } });
  });
});
