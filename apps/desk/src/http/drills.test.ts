import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { makePersonToken } from "./make-token.ts";
import { CREAMERY, DAWN, servedDesk, type ServedDesk } from "./served-desk.fixture.ts";

let desk: ServedDesk;
let now = DAWN;
let token = "";

beforeEach(async () => {
  now = DAWN;
  const lamp = { id: "lamp", topic: "skerry/lamp", shows: [{ site: "creamery", paths: ["P1"] }] };
  desk = await servedDesk(() => now, {}, [], [lamp]);
  await desk.watch.putSite(CREAMERY, "test");
  token = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: DAWN });
});
afterEach(() => desk.close());

async function ask(method: "GET" | "POST", url: string, body?: object) {
  const headers = { authorization: `Bearer ${token}` };
  const { statusCode, payload } = await desk.app.inject({
    method,
    url,
    headers,
    ...(body === undefined ? {} : { payload: body }),
  });
  return { status: statusCode, said: JSON.parse(payload) as Record<string, unknown> };
}

describe("a drill of a path that ends in a beacon", () => {
  it("takes the word of a named person who saw it burn, with the time", async () => {
    await ask("POST", "/api/sites/creamery/paths/P1/drills", {});
    now += 600_000;
    const { status, said } = await ask("POST", "/api/drills/D1/beacons/lamp/seen", { at: DAWN + 60_000 });
    expect(status).toBe(200);
    expect(said["text"]).toContain("Ann Lee saw beacon lamp burn 2026-11-24T17:01:00.000Z.");
    const drills = (await ask("GET", "/api/drills")).said;
    expect(drills).toMatchObject([
      { beacons: [{ beacon: "lamp", seen: { by: "Ann Lee", at: DAWN + 60_000, saidAt: now } }] },
    ]);
  });

  it.each<[string, object, string]>([
    ["D1/beacons/lamp", { at: DAWN - 600_000 }, "DRILL_BEACON_NOT_LIT"],
    ["D1/beacons/other", {}, "DRILL_BEACON_UNKNOWN"],
    ["D9/beacons/lamp", {}, "DESK_MATTER_UNKNOWN"],
  ])("refuses %s %j with %s", async (what, body, code) => {
    await ask("POST", "/api/sites/creamery/paths/P1/drills", {});
    const { status, said } = await ask("POST", `/api/drills/${what}/seen`, body);
    expect(status).toBeGreaterThanOrEqual(400);
    expect(JSON.stringify(said)).toContain(code);
  });
});

describe("drills of a site", () => {
  it("are answered as the newest of each path, so that a path that is drilled often hides no other", async () => {
    for (const [path, count] of [
      ["P1", 4],
      ["P2", 2],
    ] as const)
      for (let n = 0; n < count; n++)
        await keep(path, `${path}-${n}`, DAWN + (path === "P1" ? 60_000 : 0) + n);
    const told = async (query: string): Promise<readonly string[]> =>
      (
        (await ask("GET", `/api/drills?site=creamery${query}`)).said as unknown as readonly { id: string }[]
      ).map(({ id }) => id);
    expect(await told("&ofEachPath=1")).toEqual(["P1-3", "P2-1"]);
    expect(await told("&ofEachPath=3")).toEqual(["P1-3", "P1-2", "P1-1", "P2-1", "P2-0"]);
    expect(await told("")).toHaveLength(6);
  });
});

async function keep(path: string, id: string, at: number): Promise<void> {
  const drill = { ...{ id, site: "creamery", path, trigger: "on-demand", by: "Ann Lee" }, startedAt: at };
  const row = { id, site: "creamery", path_id: path, started_at: at, answer_by_at: at, reading_key: null };
  await desk.store.amend((tx) =>
    tx
      .insertInto("drill")
      .values({ ...row, ended_at: at, outcome: "passed", drill_json: JSON.stringify(drill) })
      .execute(),
  );
}
