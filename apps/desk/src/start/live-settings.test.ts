import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { limitsInForce, readDesk, WATCH_LIMITS } from "@earthbell/model";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { secretsOf } from "../folder/secrets.ts";
import { makePersonToken, makeSiteToken } from "../http/make-token.ts";
import { CREAMERY, DAWN, type ServedDesk, servedDesk } from "../http/served-desk.fixture.ts";
import { openStore } from "../store/index.ts";
import { type LiveChannel, liveChannel } from "../tell/live-channel.ts";
import { channelsOf } from "./channels-of.ts";
import { liveSettings } from "./live-settings.ts";

const SETTINGS = `format: earthbell.desk/1
desk: {name: Skerry}
# the provider's relay
email:
  host: mail.example.net
  port: 587
  security: starttls
  user: desk
  password: {env: WORD}
  from: watch@example.org
limits:
  floodAlarms: 20   # agreed on 3 May
`;
const log = { info: () => undefined, warn: () => undefined, error: () => undefined };
const clock = { now: () => DAWN, pause: () => Promise.resolve() };

let folder: string;
let file: string;
let desk: ServedDesk;
let person: string;
let became: number;
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "earthbell-settings-"));
  file = join(folder, "desk.yaml");
  writeFileSync(file, SETTINGS);
  became = 0;
  const read = readDesk(SETTINGS, "desk.yaml");
  if (!read.ok) throw new Error("settings");
  const start = {
    ...{ settings: read.record, settingsFile: "desk.yaml", folder, clock, log },
    secrets: secretsOf(folder, { WORD: "hush" }),
  };
  const channels = channelsOf({ ...start, brokers: [] }).map((channel): LiveChannel => {
    const live = liveChannel(channel);
    return {
      ...live,
      become: async (next) => {
        became += 1;
        await live.become(next);
      },
    };
  });
  const store = await openStore({ kind: "sqlite", file: ":memory:" });
  const { editor } = liveSettings(start, {
    channels,
    store,
    watch: () => desk.watch,
    limitsOf: ({ limits = {} }) => limitsInForce(WATCH_LIMITS, limits, "desk.yaml"),
  });
  desk = await servedDesk(() => DAWN, { settings: editor });
  person = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: DAWN });
  await desk.watch.putSite(CREAMERY, "Ann Lee");
});
afterEach(async () => {
  await desk.close();
  rmSync(folder, { recursive: true });
});

interface Said {
  readonly error: {
    readonly code: string;
    readonly message: string;
    readonly faults: readonly { readonly field: string; readonly code: string }[];
  };
  readonly inForce: string;
  readonly file: string;
}

async function ask(method: "GET" | "PUT" | "POST", url: string, payload?: object, token = person) {
  const headers = { authorization: `Bearer ${token}` };
  const sent = payload === undefined ? {} : { payload };
  const reply = await desk.app.inject({ method, url: `/api/settings${url}`, headers, ...sent });
  return { status: reply.statusCode, body: reply.json<Said>(), text: reply.body };
}
async function edited() {
  const { body } = await ask("GET", "");
  return (
    body as unknown as { edited: { digest: string; sections: Record<string, object>; waiting: string[] } }
  ).edited;
}
async function put(section: string, wanted: object) {
  return ask("PUT", `/sections/${section}`, { from: (await edited()).digest, ...wanted });
}
const email = async (change: object) => ({ fields: { ...(await edited()).sections["email"], ...change } });

describe("settings that are changed while the desk runs", () => {
  it("are in force at once for mail, in the file with every remark, and on record", async () => {
    const { status, body } = await put("email", await email({ fromName: "Skerry watch" }));
    expect([status, body.inForce, became]).toEqual([200, "now", 1]);
    expect(readFileSync(file, "utf8")).toBe(
      SETTINGS.replace("from: watch@example.org\n", "from: watch@example.org\n  fromName: Skerry watch\n"),
    );
    const rows = await desk.store.db
      .selectFrom("journal")
      .select(["by", "text"])
      .where("subject", "=", "settings")
      .execute();
    expect(rows).toEqual([{ by: "Ann Lee", text: "Settings changed: email, in force now." }]);
  });

  it("are in force at once for limits, with the file as their source", async () => {
    const { body } = await put("limits", { fields: { floodAlarms: 20, repeatEvery: "2 h" } });
    expect(body.inForce).toBe("now");
    const { limits } = (await ask("GET", "")).body as unknown as { limits: object[] };
    expect(limits).toContainEqual(
      expect.objectContaining({ name: "repeatMin", value: 120, source: "desk.yaml, limits.repeatEvery" }),
    );
    expect(readFileSync(file, "utf8")).toContain("floodAlarms: 20   # agreed on 3 May\n");
  });

  it("that only a new start takes up are said to wait", async () => {
    const text = "keys: [{id: k1, secret: {file: SECRET}}]";
    const { file: secret } = (
      await ask("POST", "/secrets", { of: "webhook", secret: "a long key of 32 characters, at the least" })
    ).body;
    const { body } = await put("webhook", { text: text.replace("SECRET", secret) });
    expect(body.inForce).toBe("later");
    expect((await edited()).waiting).toEqual(["webhook"]);
  });

  it("name every fault at once with its field, and nothing is changed", async () => {
    const bad = await email({
      host: "no host",
      port: 700_000,
      security: "loud",
      from: "x",
      password: { file: "secrets/none" },
    });
    const { status, body } = await put("email", bad);
    expect(status).toBe(422);
    expect(body.error.faults.map(({ field }) => field).sort()).toEqual([
      "email.from",
      "email.host",
      "email.port",
      "email.security",
    ]);
    expect(readFileSync(file, "utf8")).toBe(SETTINGS);
  });

  it("are refused when they were made from an older file", async () => {
    const before = (await edited()).digest;
    await put("limits", { fields: { floodAlarms: 30 } });
    const late = await ask("PUT", "/sections/limits", { from: before, fields: { floodAlarms: 40 } });
    expect([late.status, late.body.error.code]).toEqual([409, "SETTINGS_CHANGED"]);
  });

  it("are for those who run the whole desk", async () => {
    const token = (await makeSiteToken(desk.store, "creamery", { label: "x", by: "x", at: DAWN }))!;
    const from = (await edited()).digest;
    expect((await ask("PUT", "/sections/limits", { from, fields: {} }, token)).status).toBe(403);
    expect((await ask("POST", "/secrets", { of: "email", secret: "x" }, token)).status).toBe(403);
    expect(readFileSync(file, "utf8")).toBe(SETTINGS);
  });
});

describe("a secret", () => {
  it("is kept for the desk alone, named by its file, and never told again", async () => {
    const { body } = await ask("POST", "/secrets", { of: "email", secret: "correct horse" });
    expect(statSync(join(folder, body.file)).mode & 0o777).toBe(0o600);
    const { status } = await put("email", await email({ password: { file: body.file } }));
    expect(status).toBe(200);
    const { text } = await ask("GET", "");
    expect(text).toContain(body.file);
    expect(text).not.toContain("correct horse");
    const journal = await desk.store.db.selectFrom("journal").select("text").execute();
    expect(JSON.stringify(journal)).not.toContain("correct horse");
    expect(readdirSync(join(folder, "secrets"))).toHaveLength(1);
  });

  it("that is known does not go to another server", async () => {
    const { status, body } = await put("email", await email({ host: "elsewhere.example" }));
    expect([status, body.error.code]).toEqual([422, "SETTINGS_CHANNEL_UNUSABLE"]);
    expect(readFileSync(file, "utf8")).toBe(SETTINGS);
  });

  it("that cannot be read keeps the settings as they were", async () => {
    const { status, body } = await put("email", await email({ password: { file: "secrets/none" } }));
    expect([status, body.error.code]).toEqual([422, "SETTINGS_CHANNEL_UNUSABLE"]);
    expect(body.error.message).toContain("DESK_SECRET_MISSING");
    expect([readFileSync(file, "utf8"), became]).toEqual([SETTINGS, 0]);
  });
});
