import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { makePersonToken } from "./make-token.ts";
import { CREAMERY, DAWN as NOW, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";
import { newToken, tokenHash } from "../token.ts";

let desk: ServedDesk;
let person: string;

beforeEach(async () => {
  desk = await servedDesk(() => NOW);
  person = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: NOW });
});
afterEach(() => desk.close());

type Method = "GET" | "POST" | "PUT" | "DELETE";

async function ask(method: Method, url: string, body?: unknown, headers: Record<string, string> = {}) {
  const text = typeof body === "string";
  const reply = await desk.app.inject({
    method,
    url,
    headers: {
      authorization: `Bearer ${person}`,
      ...(body === undefined ? {} : { "content-type": text ? "text/yaml" : "application/json" }),
      ...headers,
    },
    ...(body === undefined ? {} : { payload: text ? body : JSON.stringify(body) }),
  });
  const said = reply.headers["content-type"]?.toString().includes("json")
    ? reply.json<unknown>()
    : reply.body;
  return { status: reply.statusCode, said: said as never, headers: reply.headers };
}

const faultReading = {
  array: "A1",
  device: "INV1",
  at: NOW,
  kind: "earth-fault-bit",
  value: true,
  unit: "bit",
};

async function raiseFault(): Promise<string> {
  await ask("PUT", "/api/sites/creamery", CREAMERY);
  await ask("POST", "/api/push/readings?site=creamery", { readings: [faultReading] });
  const { said } = await ask("GET", "/api/cases");
  return (said as readonly { id: string }[])[0]!.id;
}

describe("who may ask", () => {
  const addresses: readonly (readonly [Method, string])[] = [
    ["GET", "/api/sites"],
    ["GET", "/api/sites/creamery"],
    ["PUT", "/api/sites/creamery"],
    ["DELETE", "/api/sites/creamery"],
    ["POST", "/api/sites/creamery/tokens"],
    ["GET", "/api/site-names"],
    ["GET", "/api/now"],
    ["GET", "/api/case-lines"],
    ["GET", "/api/cases"],
    ["GET", "/api/cases/C1"],
    ["GET", "/api/alarms"],
    ["GET", "/api/drills"],
    ["GET", "/api/drill-plans"],
    ["GET", "/api/path-watches"],
    ["POST", "/api/sites/creamery/paths/P1/drills"],
    ["GET", "/api/messages"],
    ["GET", "/api/broken-addresses"],
    ["GET", "/api/live"],
  ];
  const bodyFor = (url: string): object => (url.endsWith("tokens") ? { label: "logger" } : {});

  it.each(addresses)("%s %s wants a token", async (method, url) => {
    const body = method === "POST" ? bodyFor(url) : method === "PUT" ? CREAMERY : undefined;
    expect(await ask(method, url, body, { authorization: "" })).toMatchObject({
      status: 401,
      said: { error: { code: "REQUEST_TOKEN_MISSING" } },
    });
    expect(await ask(method, url, body, { authorization: "Bearer eb_nobody" })).toMatchObject({
      status: 401,
      said: { error: { code: "REQUEST_TOKEN_UNKNOWN" } },
    });
  });

  it("a site's token pushes readings of its own site and does nothing else", async () => {
    await ask("PUT", "/api/sites/creamery", CREAMERY);
    const { said } = await ask("POST", "/api/sites/creamery/tokens", { label: "logger" });
    const headers = { authorization: `Bearer ${(said as { token: string }).token}` };
    const push = { readings: [faultReading] };
    expect(await ask("POST", "/api/push/readings", push, headers)).toMatchObject({
      status: 200,
      said: { taken: 1 },
    });
    expect((await ask("POST", "/api/push/readings?site=other", push, headers)).status).toBe(403);
    expect((await ask("GET", "/api/cases", undefined, headers)).status).toBe(403);
  });

  it("a token is kept as its hash only", async () => {
    await ask("PUT", "/api/sites/creamery", CREAMERY);
    const { said } = await ask("POST", "/api/sites/creamery/tokens", { label: "logger" });
    const { token } = said as { token: string };
    const rows = await desk.store.db.selectFrom("site_token").selectAll().execute();
    expect(JSON.stringify(rows)).not.toContain(token);
    expect(rows[0]!.token_hash).toBe(tokenHash(token));
  });
});

describe("a site file", () => {
  it("is put in, listed and read back as it was written", async () => {
    expect(await ask("PUT", "/api/sites/creamery", CREAMERY)).toMatchObject({
      status: 200,
      said: { revision: 1 },
    });
    expect(await ask("PUT", "/api/sites/creamery", CREAMERY)).toMatchObject({ said: { unchanged: true } });
    expect((await ask("GET", "/api/sites/creamery")).said).toBe(CREAMERY);
    expect((await ask("GET", "/api/sites")).said).toMatchObject([
      { id: "creamery", arrays: 1, openCases: 0 },
    ]);
  });

  it("with faults is refused with all of them and their lines", async () => {
    const broken = CREAMERY.replace("installed: 2015-04-20", "installed: 2015-04-31").replace(
      "-3 °C",
      "-3 m",
    );
    const { status, said } = await ask("PUT", "/api/sites/creamery", broken);
    expect(status).toBe(422);
    const { faults } = (said as { error: { faults: readonly { code: string; line: number }[] } }).error;
    expect(faults.map(({ code }) => code)).toEqual(["QUANTITY_UNIT_WRONG", "INPUT_DATE_INVALID"]);
  });

  it("of another site than its address is refused", async () => {
    expect(await ask("PUT", "/api/sites/dairy", CREAMERY)).toMatchObject({ status: 400 });
  });
});

describe("readings that are pushed", () => {
  it("raise a case once, however often they are sent", async () => {
    await raiseFault();
    const again = await ask("POST", "/api/push/readings?site=creamery", { readings: [faultReading] });
    expect(again.said).toMatchObject({ taken: 0, known: 1 });
    expect((await ask("GET", "/api/cases")).said).toHaveLength(1);
  });

  it("are refused together, with every field at fault", async () => {
    const readings = [faultReading, { ...faultReading, kind: "temperature" }, { ...faultReading, value: 3 }];
    expect(await ask("POST", "/api/push/readings?site=creamery", { readings })).toMatchObject({
      status: 400,
      said: { error: { fields: [{ field: "body.readings.1.kind" }, { field: "body.readings.2.value" }] } },
    });
  });

  it.each([
    ["no JSON", "{", "application/json"],
    ["no list", "{}", "application/json"],
    ["a list of nothing", '{"readings":[]}', "application/json"],
    [
      "an unknown field",
      '{"readings":[{"device":"a","at":1,"kind":"x","value":1,"unit":"b","extra":1}]}',
      "application/json",
    ],
    ["another media type", "<a/>", "application/xml"],
  ])("as %s are refused", async (_, payload, type) => {
    const reply = await desk.app.inject({
      method: "POST",
      url: "/api/push/readings?site=creamery",
      headers: { authorization: `Bearer ${person}`, "content-type": type },
      payload,
    });
    expect(reply.statusCode).toBe(400);
    expect(reply.json()).toMatchObject({ error: { code: "REQUEST_BODY_INVALID" } });
  });

  it("that are too many bytes are refused", async () => {
    const reply = await ask("POST", "/api/push/readings?site=creamery", {
      readings: "x".repeat(5 * 2 ** 20),
    });
    expect(reply).toMatchObject({ status: 413, said: { error: { code: "REQUEST_TOO_LARGE" } } });
  });
});

describe("a table of insulation readings", () => {
  const days = Array.from({ length: 40 }, (_, n) =>
    new Date(NOW - (n + 2) * 86_400_000).toISOString().slice(0, 10),
  );
  const table = ["when;Riso", ...days.map((day) => `${day} 07:30;${day.endsWith("5") ? "9" : "2500"}`)].join(
    "\n",
  );
  const mapping =
    "format: earthbell.columns/1\ninstant: when\ninsulation: Riso\nunit: kΩ\nzone: Australia/Melbourne\n";
  const push = (body: string, query: string) =>
    ask("POST", `/api/push/table?site=creamery&device=INV1&mapping=logger${query}`, body, {
      "content-type": "text/csv",
    });

  it("is read by a mapping that is saved, kept for ever, and calls nobody for faults of long ago", async () => {
    await ask("PUT", "/api/sites/creamery", CREAMERY);
    expect((await ask("PUT", "/api/mappings/logger", mapping)).status).toBe(200);
    expect((await push(table, "")).said).toMatchObject({ taken: 40, setAside: [] });
    expect((await ask("GET", "/api/cases")).said).toEqual([]);
    const kept = () =>
      desk.store.db
        .selectFrom("insulation_day")
        .select(["date", "lowest_ohms", "highest_ohms"])
        .orderBy("date")
        .execute();
    const before = await kept();
    expect(before).toHaveLength(40);
    await push(table, "");
    expect(await kept()).toEqual(before);
    const { said } = await ask("GET", "/api/sites/creamery/arrays/array/history");
    expect((said as { error?: object }).error).toBeDefined();
    expect((await ask("GET", "/api/sites/creamery/arrays/A1/history")).status).toBe(200);
  });

  it("with faults is refused whole, each with its line", async () => {
    await ask("PUT", "/api/sites/creamery", CREAMERY);
    await ask("PUT", "/api/mappings/logger", mapping);
    const reply = await push("when;Riso\nnever;1\n2026-01-02 07:00;much", "");
    expect(reply.status).toBe(422);
    const { faults } = (reply.said as { error: { faults: readonly { line: number }[] } }).error;
    expect(faults.map(({ line }) => line)).toEqual([2, 3]);
  });

  it("needs a mapping that is saved, and a mapping that is sound", async () => {
    expect((await push(table, "")).status).toBe(404);
    expect(
      (await ask("PUT", "/api/mappings/logger", "format: earthbell.columns/1\nunit: volts\n")).status,
    ).toBe(422);
  });
});

describe("an event log", () => {
  const events = `format: earthbell.events/1
instant: when
event: code
zone: Australia/Melbourne
faults: [{event: "34", is: earth-fault-bit, change: begins}]
`;
  const push = (body: string) =>
    ask("POST", "/api/push/table?site=creamery&device=INV1&mapping=events", body, {
      "content-type": "text/csv",
    });
  /** A quarter of an hour ago, on the clock of the place. */
  const lately = new Date(NOW - 900_000 + 11 * 3_600_000).toISOString().slice(0, 16).replace("T", " ");

  it("is read by the rules of its mapping, and raises the fault that began lately", async () => {
    await ask("PUT", "/api/sites/creamery", CREAMERY);
    expect((await ask("PUT", "/api/mappings/events", events)).status).toBe(200);
    const log = `when,code\n${lately},17\n${lately},34\n`;
    expect((await push(log)).said).toMatchObject({ taken: 1, known: 0, passedOver: 1 });
    expect((await push(log)).said).toMatchObject({ taken: 0, known: 1 });
    expect((await ask("GET", "/api/alarms")).said).toMatchObject([
      { sign: "earth-fault-bit", site: "creamery" },
    ]);
  });

  it("with faults is refused whole, with line, field and value", async () => {
    await ask("PUT", "/api/sites/creamery", CREAMERY);
    await ask("PUT", "/api/mappings/events", events);
    const { status, said } = await push("when,code\nsoon,34\n");
    expect(status).toBe(422);
    expect(said).toMatchObject({
      error: { faults: [{ code: "HISTORY_INSTANT_INVALID", line: 2, field: "when", value: "soon" }] },
    });
  });

  it("needs a mapping whose rules can be followed", async () => {
    const unfit = events.replace(", change: begins", "");
    const { status, said } = await ask("PUT", "/api/mappings/events", unfit);
    expect(status).toBe(422);
    expect(said).toMatchObject({
      error: { faults: [{ code: "DESK_EVENT_RULE_UNFIT", field: "faults[0]" }] },
    });
  });
});

describe("a case", () => {
  it("shows its alarms, and takes the steps of a person by the name of the token", async () => {
    const id = await raiseFault();
    expect((await ask("GET", `/api/cases/${id}`)).said).toMatchObject({
      alarms: [{ sign: "earth-fault-bit" }],
    });
    expect(await ask("POST", `/api/cases/${id}/steps`, { step: "remark", text: "On my way." })).toMatchObject(
      {
        status: 200,
      },
    );
    const { said } = await ask("GET", `/api/cases/${id}`);
    expect((said as { case: { timeline: readonly object[] } }).case.timeline).toContainEqual(
      expect.objectContaining({ by: "Ann Lee", text: "On my way." }),
    );
  });

  it("is not closed before its needs are met, and says which", async () => {
    const id = await raiseFault();
    expect(await ask("POST", `/api/cases/${id}/steps`, { step: "close" })).toMatchObject({
      status: 409,
      said: { error: { code: "CASE_NEEDS_UNMET" } },
    });
  });

  it("takes a step once where the request is sent twice with one key", async () => {
    const id = await raiseFault();
    const key = { "idempotency-key": "k1" };
    for (let times = 0; times < 2; times++)
      await ask("POST", `/api/cases/${id}/steps`, { step: "remark", text: "Twice sent." }, key);
    const { said } = await ask("GET", `/api/cases/${id}`);
    const { timeline } = (said as { case: { timeline: readonly { text: string }[] } }).case;
    expect(timeline.filter(({ text }) => text === "Twice sent.")).toHaveLength(1);
  });

  it("that does not exist is said to be unknown", async () => {
    expect(await ask("GET", "/api/cases/C99")).toMatchObject({
      status: 404,
      said: { error: { code: "REQUEST_UNKNOWN" } },
    });
  });
});

describe("the page behind a link", () => {
  /** The link of the first message about the fault. */
  async function linkOf(): Promise<string> {
    await raiseFault();
    const row = await desk.store.db
      .selectFrom("outbox")
      .select("envelope_json")
      .where("person", "=", "desk")
      .executeTakeFirstOrThrow();
    return new URL((JSON.parse(row.envelope_json) as { acknowledgeUrl: string }).acknowledgeUrl).pathname;
  }

  it("says what it will do and does nothing until the button is pressed", async () => {
    const link = await linkOf();
    for (let times = 0; times < 3; times++) {
      const { status, said } = await ask("GET", link, undefined, { authorization: "" });
      expect(status).toBe(200);
      expect(said).toContain("Nothing happens until you press it");
    }
    expect((await ask("GET", "/api/alarms")).said).toMatchObject([{ acknowledged: null }]);
    expect((await ask("POST", link)).status).toBe(200);
    expect((await ask("GET", "/api/alarms")).said).toMatchObject([{ acknowledged: { by: "desk" } }]);
  });

  it("works once", async () => {
    const link = await linkOf();
    await ask("POST", link);
    expect((await ask("POST", link)).status).toBe(409);
    expect((await ask("GET", link)).said).toContain("Acknowledged before");
  });

  it("holds no script, and no link of a stranger opens anything", async () => {
    const { said, headers } = await ask("GET", await linkOf());
    expect(said).not.toContain("<script");
    expect(headers["content-security-policy"]).toContain("script-src 'self'");
    expect(headers["referrer-policy"]).toBe("no-referrer");
    expect((await ask("GET", `/a/${newToken()}`)).status).toBe(404);
  });
});

describe("the paths", () => {
  it("are listed with the deadline of their next sign of life", async () => {
    await ask("PUT", "/api/sites/creamery", CREAMERY);
    // A day by the site file, and a tenth of it.
    const deadlineAt = NOW + 1.1 * 24 * 3_600_000;
    expect((await ask("GET", "/api/path-watches")).said).toContainEqual({
      ...{ site: "creamery", path: "P1", lifeEveryMin: 1440 },
      ...{ lastLifeAt: NOW, deadlineAt, silent: false },
    });
    expect((await ask("GET", "/api/path-watches?silent=true")).said).toEqual([]);
    expect((await ask("GET", "/api/path-watches?site=elsewhere")).said).toEqual([]);
  });

  it("are listed with their planned drills", async () => {
    await ask("PUT", "/api/sites/creamery", CREAMERY);
    expect((await ask("GET", "/api/drill-plans")).said).toEqual([]);
    await ask("PUT", "/api/sites/creamery/paths/P1/next-drill", { at: NOW + 1000 });
    expect((await ask("GET", "/api/drill-plans?site=creamery")).said).toEqual([
      { site: "creamery", path: "P1", at: NOW + 1000 },
    ]);
  });
});

describe("the desk", () => {
  it("tells its state without a token and without names", async () => {
    await raiseFault();
    const { status, said } = await ask("GET", "/healthz", undefined, { authorization: "" });
    expect(status).toBe(200);
    expect(JSON.stringify(said)).not.toContain("creamery");
  });

  it("describes every address of its interface", async () => {
    const { said } = await ask("GET", "/openapi.json");
    const { paths } = said as { paths: Record<string, object> };
    expect(Object.keys(paths)).toEqual(
      expect.arrayContaining([
        "/api/push/readings",
        "/api/sites/{site}",
        "/api/cases/{id}/steps",
        "/healthz",
      ]),
    );
    expect(JSON.stringify(paths["/api/push/readings"])).toContain("device");
  });

  it("says plainly that nothing was stored when the store fails", async () => {
    await desk.store.close();
    const { status, said } = await ask("GET", "/api/sites");
    expect(status).toBe(503);
    expect(said).toMatchObject({ error: { code: "REQUEST_NOT_STORED" } });
  });
});
