import { spawn, type ChildProcess } from "node:child_process";
import { once } from "node:events";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { machineClock, type Clock } from "../../apps/desk/src/clock.ts";
import type { Envelope, SendOutcome } from "../../apps/desk/src/tell/channel.ts";
import { webhookChannel, type WebhookOptions } from "../../apps/desk/src/tell/webhook/webhook-channel.ts";
import { selfMadeCertificate } from "../mail-peer/mail-server.ts";

const NOW = Date.UTC(2026, 5, 1, 5, 12);
const SECRET = "a secret of more than sixteen letters, with Ω";
const { cert, key, pem } = selfMadeCertificate();

interface Said {
  readonly good: boolean;
  readonly again: boolean;
  readonly host: string;
  readonly keyMatches: boolean;
  readonly record: Readonly<Record<string, unknown>>;
}

let child: ChildProcess;
let port = 0;
const said: Said[] = [];

beforeAll(async () => {
  const args = [join(import.meta.dirname, "server.py"), cert, key, "k1", SECRET, String(NOW / 1000)];
  const started = spawn("/usr/bin/python3", args, { stdio: ["ignore", "pipe", "inherit"] });
  child = started;
  const lines = createInterface({ input: started.stdout });
  const [first] = (await once(lines, "line")) as [string];
  port = Number(first);
  lines.on("line", (line) => said.push(JSON.parse(line) as Said));
});
afterAll(async () => {
  const gone = once(child, "exit");
  child.kill("SIGTERM");
  await gone;
});

const envelope: Envelope = {
  key: '["C1","P1","ann","first",1]',
  channel: "webhook",
  address: "",
  person: "ann",
  site: "tarn",
  matter: "C1",
  kind: "first",
  sequence: 1,
  subject: "Alarm: Tarn Mill ⚡",
  text: 'Do not touch the roof.\n"Ω" \\ 👩‍🔧',
  acknowledgeUrl: "https://desk.example/a/7Hq",
  writtenAt: NOW,
};

interface Sending {
  readonly keys?: WebhookOptions["signingKeys"];
  readonly sentAt?: number;
  readonly host?: string;
  readonly trusted?: boolean;
}

async function send({
  keys = [{ id: "k1", secret: SECRET }],
  sentAt = NOW,
  host = "localhost",
  trusted = true,
}: Sending = {}): Promise<{ readonly outcome: SendOutcome; readonly heard: readonly Said[] }> {
  said.length = 0;
  const clock: Clock = { ...machineClock, now: () => sentAt };
  const options: WebhookOptions = {
    signingKeys: keys,
    allowInner: ["127.0.0.1"],
    resolve: () => Promise.resolve(["127.0.0.1"]),
    ...(trusted ? { ca: pem } : {}),
  };
  const address = `https://${host}:${port}/hook`;
  const outcome = await webhookChannel(options, clock).send(
    { ...envelope, address },
    new AbortController().signal,
  );
  return { outcome, heard: said };
}

const heardOne = (heard: readonly Said[]) =>
  vi.waitFor(() => {
    expect(heard).toHaveLength(1);
    return heard[0]!;
  });

describe("a receiver written from the documents alone", () => {
  it("finds the signature good, and every character of the message as it was", async () => {
    const { outcome, heard } = await send();
    expect(outcome).toEqual({ outcome: "accepted", reply: "status 200" });
    const one = await heardOne(heard);
    expect(one).toMatchObject({ good: true, keyMatches: true, host: `localhost:${port}` });
    expect(one.record).toEqual({
      format: "earthbell.message/1",
      key: envelope.key,
      kind: "first",
      site: "tarn",
      matter: "C1",
      person: "ann",
      sequence: 1,
      subject: envelope.subject,
      text: envelope.text,
      acknowledgeUrl: envelope.acknowledgeUrl,
      writtenAt: "2026-06-01T05:12:00.000Z",
    });
  });

  it("knows a duplicate by its key", async () => {
    await send();
    const { heard } = await send();
    expect(await heardOne(heard)).toMatchObject({ good: true, again: true });
  });

  it("finds its own signature beside that of a newer key", async () => {
    const keys: WebhookOptions["signingKeys"] = [
      { id: "k2", secret: "another secret, long enough" },
      { id: "k1", secret: SECRET },
    ];
    const { heard } = await send({ keys });
    expect((await heardOne(heard)).good).toBe(true);
  });

  it.each<[string, Sending]>([
    ["another secret", { keys: [{ id: "k1", secret: "some other secret letters" }] }],
    ["another key's name", { keys: [{ id: "k9", secret: SECRET }] }],
    ["an old message played again", { sentAt: NOW - 301_000 }],
  ])("refuses %s", async (_, sending) => {
    const { outcome, heard } = await send(sending);
    expect(outcome).toEqual({ outcome: "refused", reason: "The other side answered with status 401." });
    expect((await heardOne(heard)).good).toBe(false);
  });
});

describe("the certificate of the receiver", () => {
  it("that is not trusted: nothing is sent", async () => {
    const { outcome, heard } = await send({ trusted: false });
    expect(outcome).toMatchObject({
      outcome: "later",
      reason: expect.stringContaining("SELF_SIGNED") as string,
    });
    expect(heard).toEqual([]);
  });

  it("that is for another name: nothing is sent, though the address is the same", async () => {
    const { outcome, heard } = await send({ host: "elsewhere.example" });
    expect(outcome).toMatchObject({ outcome: "later", reason: expect.stringContaining("ALTNAME") as string });
    expect(heard).toEqual([]);
  });
});
