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
