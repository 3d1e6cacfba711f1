import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { machineClock } from "../../apps/desk/src/clock.ts";
import type { Channel, Envelope, SendOutcome } from "../../apps/desk/src/tell/channel.ts";
import { smtpChannel, type SmtpOptions } from "../../apps/desk/src/tell/smtp/smtp-channel.ts";
import {
  headerOf,
  type MailServer,
  readMessages,
  selfMadeCertificate,
  startMailServer,
} from "./mail-server.ts";

const SENDER = { from: "desk@tarn.example", fromName: "Desk of Tarn", replyTo: "people@tarn.example" };
const URL = "https://desk.tarn.example/a/7Hq?x=1&y=2";
const TEXT = `The alarm at Tarn Mill has operated.\n\nBefore anything else:\n- Do not touch the roof <or> the frames.\n\nAcknowledge here:\n${URL}\n\n${"Ω and 👩‍🔧, ".repeat(120)}`;

function envelope(change: Partial<Envelope> = {}): Envelope {
  return {
    key: '["C1","P1","ann","first",1]',
    channel: "email",
    address: "ann@tarn.example",
    person: "ann",
    site: "tarn",
    matter: "C1",
    kind: "first",
    sequence: 1,
    subject: "Alarm: Tarn Mill ⚡, insulation below its threshold, array A1",
    text: TEXT,
    acknowledgeUrl: URL,
    writtenAt: Date.UTC(2026, 5, 1, 5, 12),
    ...change,
  };
}

const channels: Channel[] = [];
afterEach(async () => {
  for (const channel of channels.splice(0)) await channel.close();
});

type Change = Partial<SmtpOptions> & {
  readonly login?: { readonly user: string; readonly password: string };
};

function mailTo(server: MailServer, change: Change = {}): Channel {
  const plain = { security: "none", host: "127.0.0.1", port: server.port, ...SENDER };
  const channel = smtpChannel({ ...plain, ...change } as SmtpOptions, machineClock);
  channels.push(channel);
  return channel;
}

function send(channel: Channel, change: Partial<Envelope> = {}): Promise<SendOutcome> {
  return channel.send(envelope(change), new AbortController().signal);
}

describe("a mail server without protection", () => {
  let server: MailServer;
  beforeAll(async () => {
    server = await startMailServer("--slow", "3");
  });
  afterAll(() => server.stop());

  it("takes a message that Python's parser reads without a defect, in both forms", async () => {
    const outcome = await send(mailTo(server), { address: "both@tarn.example" });
    expect(outcome).toEqual({ outcome: "accepted", reply: "250 2.0.0 Taken" });
    const [read] = readMessages(await server.takenFor("both@tarn.example", 1));
    expect(read!.defects).toEqual([]);
    expect(read!.type).toBe("multipart/alternative");
    expect(read!.bodies["text/plain"]!.trim()).toBe(TEXT.trim());
    const html = read!.bodies["text/html"]!;
    expect(html).toContain("<li>Do not touch the roof &lt;or&gt; the frames.</li>");
    expect(html.match(/(?:src|href)="[^"]*"/gu)).toEqual([`href="${URL.replace("&", "&amp;")}"`]);
  });

  it("reads the headers that were meant, and none that offers to unsubscribe", async () => {
    await send(mailTo(server), { address: "head@tarn.example" });
    const [read] = readMessages(await server.takenFor("head@tarn.example", 1));
    expect(headerOf(read!, "Subject")).toBe(envelope().subject);
    expect(headerOf(read!, "From")).toBe("Desk of Tarn <desk@tarn.example>");
    expect(headerOf(read!, "To")).toBe("head@tarn.example");
    expect(headerOf(read!, "Reply-To")).toBe("people@tarn.example");
    expect(headerOf(read!, "Date")).toBe("Mon, 01 Jun 2026 05:12:00 +0000");
    expect(headerOf(read!, "Auto-Submitted")).toBe("auto-generated");
    expect(headerOf(read!, "Message-ID")).toMatch(/^<[0-9a-f]{40}@tarn\.example>$/u);
    expect(read!.headers.filter(([name]) => /^(?:list-|bcc|cc)/iu.test(name))).toEqual([]);
  });

  it("a duplicate has the same id; one matter is one thread, another matter another", async () => {
    const channel = mailTo(server);
    const address = "thread@tarn.example";
    for (const change of [{}, {}, { key: "k2", sequence: 2 }, { key: "k3", matter: "C2" }])
      await send(channel, { ...change, address });
    const read = readMessages(await server.takenFor(address, 4));
    const ids = read.map((message) => headerOf(message, "Message-ID"));
    const roots = read.map((message) => headerOf(message, "References"));
    expect(ids[1]).toBe(ids[0]);
    expect(new Set(ids).size).toBe(3);
    expect(roots.map((root) => root === roots[0])).toEqual([true, true, true, false]);
    expect(read.map((message) => headerOf(message, "In-Reply-To"))).toEqual(roots);
  });

  it("line ends in a subject and a name begin no header", async () => {
    const address = "forged@tarn.example";
    const channel = mailTo(server, { fromName: "Desk\r\nBcc: all@else.example" });
    await send(channel, { address, subject: "Alarm\r\nBcc: all@else.example\r\n\r\nAll is well" });
    const [taken] = await server.takenFor(address, 1);
    const [read] = readMessages([taken!]);
    expect(taken!.to).toEqual([address]);
    expect(headerOf(read!, "Bcc")).toBeUndefined();
    expect(headerOf(read!, "Subject")).toBe("Alarm Bcc: all@else.example All is well");
  });

  it.each([
    "a@tarn.example, b@tarn.example",
    "a@tarn.example\r\nRCPT TO:<b@else.example>",
    "<a@tarn.example>",
    "a b@c",
    "",
  ])("refuses what is not one address without asking the server: %j", async (address) => {
    const before = server.taken.length;
    expect(await send(mailTo(server), { address })).toMatchObject({ outcome: "refused" });
    expect(server.taken.length).toBe(before);
  });

  it("greylisting is tried later, and the second attempt is taken", async () => {
    const channel = mailTo(server);
    const address = "grey@tarn.example";
    expect(await send(channel, { address })).toMatchObject({
      outcome: "later",
      reason: expect.stringContaining("451 4.7.1 Come again in a while") as string,
    });
    expect(await send(channel, { address })).toMatchObject({ outcome: "accepted" });
    await server.takenFor(address, 1);
  });

  it("one of three recipients is refused, the other two each get a message of their own", async () => {
    const channel = mailTo(server);
    const people = ["one", "nobody", "two"].map((name) => `${name}@three.example`);
    const outcomes = await Promise.all(people.map((address) => send(channel, { address, key: address })));
    expect(outcomes.map(({ outcome }) => outcome)).toEqual(["accepted", "refused", "accepted"]);
    expect(outcomes[1]).toHaveProperty("reason", expect.stringContaining("550 5.1.1"));
    expect((await server.takenFor(people[0]!, 1))[0]!.to).toEqual([people[0]]);
    expect((await server.takenFor(people[2]!, 1))[0]!.to).toEqual([people[2]]);
  });

  it.each([
    ["relay@else.example", "later"],
    ["busy@tarn.example", "later"],
    ["spam@tarn.example", "refused"],
  ])("%s: %s", async (address, outcome) => {
    expect((await send(mailTo(server), { address })).outcome).toBe(outcome);
    await server.takenFor(address, 0);
  });

  it("a connection cut in the middle of the message is tried later, never counted as sent, and taken once", async () => {
    const channel = mailTo(server);
    const address = "drop@tarn.example";
    expect((await send(channel, { address })).outcome).toBe("later");
    await server.takenFor(address, 0);
    expect((await send(channel, { address })).outcome).toBe("accepted");
    await server.takenFor(address, 1);
  });

  it("a server that is too slow is given up in time, and others are still served", async () => {
    const channel = mailTo(server, { attemptMs: 1000, connections: 1 });
    const startedAt = performance.now();
    const slow = await send(channel, { address: "slow@tarn.example" });
    expect(slow).toEqual({ outcome: "later", reason: "No answer within 1 s." });
    expect(performance.now() - startedAt).toBeLessThan(2900);
    expect((await send(channel, { address: "after@tarn.example" })).outcome).toBe("accepted");
  });

  it("stops at once when the desk stops", async () => {
    const stop = new AbortController();
    const sending = mailTo(server).send(envelope({ address: "slow@tarn.example" }), stop.signal);
    stop.abort();
    expect(await sending).toEqual({ outcome: "later", reason: "The desk is stopping." });
  });

  it("asked for STARTTLS that is not offered, sends nothing", async () => {
    const address = "plain@tarn.example";
    const outcome = await send(mailTo(server, { security: "starttls" }), { address });
    expect(outcome).toMatchObject({
      outcome: "later",
      reason: expect.stringContaining("protected") as string,
    });
    await server.takenFor(address, 0);
  });

  it("a server that is not there is tried later", async () => {
    const gone = await startMailServer();
    await gone.stop();
    expect((await send(mailTo(gone))).outcome).toBe("later");
  });
});

describe("a mail server with a certificate nobody else signed", () => {
  const { cert, key, pem } = selfMadeCertificate();
  const login = { user: "desk", password: "a word of 5 parts, with Ω" };
  let starttls: MailServer;
  let implicit: MailServer;
  beforeAll(async () => {
    const files = ["--cert", cert, "--key", key];
    starttls = await startMailServer(
      ...files,
      "--starttls-only",
      "--user",
      login.user,
      "--password",
      login.password,
    );
    implicit = await startMailServer(
      ...files,
      "--implicit-tls",
      "--user",
      login.user,
      "--password",
      login.password,
    );
  });
  afterAll(async () => {
    await starttls.stop();
    await implicit.stop();
  });

  it.each([
    ["starttls" as const, () => starttls],
    ["tls" as const, () => implicit],
  ])("%s with the certificate trusted: the login and the message go protected", async (security, server) => {
    const address = `${security}@tarn.example`;
    const outcome = await send(mailTo(server(), { security, host: "localhost", ca: pem, login }), {
      address,
    });
    expect(outcome).toMatchObject({ outcome: "accepted" });
    const taken = await server().takenFor(address, 1);
    expect(taken).toMatchObject([{ login: "desk" }]);
    if (security === "starttls") expect(taken).toMatchObject([{ tls: true }]);
  });

  it.each([
    ["starttls" as const, () => starttls],
    ["tls" as const, () => implicit],
  ])(
    "%s with the certificate not trusted: nothing is sent, and the reason says so",
    async (security, server) => {
      const before = server().taken.length;
      const outcome = await send(mailTo(server(), { security, host: "localhost", login }));
      expect(outcome).toMatchObject({
        outcome: "later",
        reason: expect.stringMatching(/protected.*certificate/iu) as string,
      });
      expect(server().taken.length).toBe(before);
    },
  );

  it("takes any certificate only when told to", async () => {
    const channel = mailTo(starttls, { security: "starttls", checkCertificate: false, login });
    expect((await send(channel)).outcome).toBe("accepted");
  });

  it("a wrong password is the desk's fault and not the recipient's, and is not repeated in the reason", async () => {
    const wrong = { user: "desk", password: "wrong word 17" };
    const outcome = await send(
      mailTo(starttls, { security: "starttls", host: "localhost", ca: pem, login: wrong }),
    );
    expect(outcome).toMatchObject({
      outcome: "later",
      reason: expect.stringMatching(/name and password.*535/u) as string,
    });
    expect(JSON.stringify(outcome)).not.toContain("wrong word 17");
  });
});
