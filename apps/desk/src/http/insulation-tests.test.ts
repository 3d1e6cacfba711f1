import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { makePersonToken } from "./make-token.ts";
import { CREAMERY, DAWN as NOW, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

let desk: ServedDesk;
let token: string;

beforeEach(async () => {
  desk = await servedDesk(() => NOW);
  token = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: NOW });
  await desk.app.inject({
    method: "PUT",
    url: "/api/sites/creamery",
    headers: { authorization: `Bearer ${token}`, "content-type": "text/yaml" },
    payload: CREAMERY,
  });
});
afterEach(() => desk.close());

async function testsOf(site: string) {
  const reply = await desk.app.inject({
    method: "GET",
    url: `/api/sites/${site}/insulation-tests`,
    headers: { authorization: `Bearer ${token}` },
  });
  return { status: reply.statusCode, said: reply.json<Record<string, unknown>>() };
}

describe("what the insulation has to reach in a test", () => {
  // Arrays above 500 V: 1000 V of test voltage and 1 MΩ [IEC 62446-1, table of insulation test values; memory].
  it("is said for each array with the rule that says so", async () => {
    const { status, said } = await testsOf("creamery");
    expect(status).toBe(200);
    expect(Object.keys(said)).toEqual(["A1"]);
    expect(said["A1"]).toMatchObject({ testVoltage: 1000, minimumOhms: 1e6 });
    expect((said["A1"] as { source: string }).source).toContain("IEC 62446-1");
  });

  it("is refused for a site that is not watched", async () => {
    expect(await testsOf("nowhere")).toMatchObject({
      status: 404,
      said: { error: { code: "REQUEST_UNKNOWN" } },
    });
  });
});
