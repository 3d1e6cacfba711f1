import { BUILT_IN_PACKS } from "@earthbell/engine";
import { readDesk } from "@earthbell/model";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Channel, Envelope } from "../tell/channel.ts";
import { makePersonToken, makeSiteToken } from "./make-token.ts";
import { CREAMERY, DAWN, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

const SETTINGS = `format: earthbell.desk/1
desk: {name: Skerry}
email: {host: mail.example.net, port: 587, security: starttls, user: desk, password: {env: WORD}, from: a@example.org}
brokers: [{id: hall, url: "mqtts://broker.example.net"}]
beacons: [{id: lamp, broker: hall, topic: skerry/lamp}]
`;
const sent: Envelope[] = [];
const channel = (kind: Channel["kind"]): Channel => ({
  kind,
  send: (envelope, _, hear) => {
    sent.push(envelope);
    hear?.({ by: "desk", text: "hello" });
    return Promise.resolve({ outcome: "accepted", reply: "250 taken" });
  },
  close: () => Promise.resolve(),
});

let desk: ServedDesk;
let person: string;
beforeEach(async () => {
  sent.length = 0;
  const read = readDesk(SETTINGS, "desk.yaml");
  if (!read.ok) throw new Error("settings");
  const pack = { ...BUILT_IN_PACKS[0]!, override: { by: "Ann Lee", because: "notice 12" } };
  desk = await servedDesk(
    () => DAWN,
    {
      setUp: {
        file: "desk.yaml",
        settings: read.record,
        limits: (await import("@earthbell/model")).WATCH_LIMITS,
        channels: [channel("email"), channel("mqtt")],
      },
    },
    [{ file: "own.yaml", digest: "d".repeat(64), pack }],
  );
  person = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: DAWN });
  await desk.watch.putSite(CREAMERY, "Ann Lee");
});
afterEach(() => desk.close());

async function ask(method: "GET" | "POST", url: string, payload?: object, token = person) {
  const headers = { authorization: `Bearer ${token}` };
  const reply = await desk.app.inject({
    method,
    url,
    headers,
    ...(payload === undefined ? {} : { payload }),
  });
  return { status: reply.statusCode, said: reply.json<Record<string, never>>() };
}

describe("the settings in force", () => {
  it("are told with their file, their limits with their sources, and no secret", async () => {
    const { said } = await ask("GET", "/api/settings");
    expect(said).toMatchObject({
      file: "desk.yaml",
      channels: [
        { kind: "email", rehearsed: false, by: "mail.example.net, port 587, starttls" },
        { kind: "mqtt", by: "hall (mqtts://broker.example.net)" },
      ],
      beacons: [{ id: "lamp", broker: "hall", topic: "skerry/lamp" }],
    });
    expect(said["stated"]).toContainEqual({ field: "email.password", value: "read from the variable WORD" });
    expect(said["limits"]).toContainEqual(
      expect.objectContaining({ name: "repeatMin", tag: "common practice" }),
    );
  });

  it("are for those who keep the desk", async () => {
    const token = (await makeSiteToken(desk.store, "creamery", { label: "x", by: "x", at: DAWN }))!;
    expect((await ask("GET", "/api/settings", undefined, token)).status).toBe(403);
    expect((await ask("POST", "/api/settings/tests", { channel: "email", to: "a@b.c" }, token)).status).toBe(
      403,
    );
    expect(sent).toEqual([]);
  });
});

describe("a test of a channel", () => {
  it("goes out at once, says what was said, and is on record", async () => {
    const { said } = await ask("POST", "/api/settings/tests", { channel: "email", to: "ben@example.org" });
    expect(said).toEqual({ outcome: "accepted", text: "250 taken", said: [{ by: "desk", text: "hello" }] });
    expect(sent).toMatchObject([
      { address: "ben@example.org", subject: "Test of Skerry: nothing has happened" },
    ]);
    const rows = await desk.store.db
      .selectFrom("journal")
      .select(["by", "text"])
      .where("subject", "=", "test")
      .execute();
    expect(rows).toEqual([{ by: "Ann Lee", text: "Test by email to ben@example.org: accepted, 250 taken" }]);
  });

  it("tells a beacon nothing but what it shows already", async () => {
    const raised = [
      { site: "creamery", matter: "C1", text: "array A1: earth fault reported", sinceAt: DAWN },
    ];
    const row = { beacon: "lamp", site: "creamery", raised_json: JSON.stringify(raised) };
    await desk.store.amend((tx) => tx.insertInto("beacon_site").values(row).execute());
    await ask("POST", "/api/settings/tests", { channel: "mqtt", to: "lamp" });
    expect(sent).toMatchObject([{ person: "lamp", raised }]);
  });

  it.each([
    [{ channel: "sms", to: "+61355500100" }, 404],
    [{ channel: "pigeon", to: "x" }, 400],
    [{ channel: "email", to: "a\r\nb@c" }, 400],
    [{ channel: "email" }, 400],
  ])("%j is not sent", async (body, status) => {
    expect((await ask("POST", "/api/settings/tests", body)).status).toBe(status);
    expect(sent).toEqual([]);
  });

  it("is made six times a minute at most", async () => {
    const statuses: number[] = [];
    for (let times = 0; times < 7; times++)
      statuses.push((await ask("POST", "/api/settings/tests", { channel: "email", to: "a@b.c" })).status);
    expect(statuses).toEqual([200, 200, 200, 200, 200, 200, 429]);
  });
});

describe("rule packs of the desk's own", () => {
  it("are told with what they take the place of, by whom and why", async () => {
    expect((await ask("GET", "/api/rules")).said).toMatchObject([
      {
        file: "own.yaml",
        replaces: BUILT_IN_PACKS[0]!.title,
        pack: { id: BUILT_IN_PACKS[0]!.id, override: { by: "Ann Lee", because: "notice 12" } },
      },
    ]);
  });
});
