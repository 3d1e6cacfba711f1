import type { ServerResponse } from "node:http";
import fc from "fast-check";
import { afterEach, describe, expect, it } from "vitest";
import type { SendOutcome } from "../channel.ts";
import {
  envelopeTo,
  type Heard,
  type Listening,
  listening,
  stillClock,
  T,
} from "../http/listening.fixture.ts";
import { fill, fillJson } from "./fill.ts";
import { smsChannel, type SmsOptions } from "./sms-channel.ts";

const INNER = { allowPlainHttp: true, allowInner: ["127.0.0.1"] } as const;

let server: Listening | null = null;
afterEach(async () => {
  await server?.stop();
  server = null;
});

async function gateway(answer: (heard: Heard, reply: ServerResponse) => void): Promise<string> {
  server = await listening(answer);
  return `http://127.0.0.1:${server.port}`;
}

function send(options: SmsOptions, address = "+49 (151) 555-01234"): Promise<SendOutcome> {
  return smsChannel(options, stillClock(T)).send(envelopeTo(address), new AbortController().signal);
}

const json = {
  as: "json",
  value: { messages: [{ to: "{to}", content: "{text}", ref: "eb-{key}" }], flash: false },
} as const;

describe("a request to the gateway", () => {
  it("is filled as JSON: quotes, lines and braces of the text stay text", async () => {
    const url = `${await gateway((_, reply) => reply.end())}/send`;
    const headers = { authorization: "Token not-in-any-record" };
    expect(await send({ ...INNER, method: "POST", url, headers, body: json })).toMatchObject({
      outcome: "accepted",
    });
    const [heard] = server!.heard;
    expect(heard!.headers.authorization).toBe("Token not-in-any-record");
    expect(JSON.parse(heard!.body)).toEqual({
      messages: [
        {
          to: "+4915155501234",
          content: envelopeTo("").text,
          ref: expect.stringMatching(/^eb-[0-9a-f]{32}$/u) as string,
        },
      ],
      flash: false,
    });
  });

  it("is filled as a form", async () => {
    const url = `${await gateway((_, reply) => reply.end())}/send`;
    const body = { as: "form", fields: { number: "{to}", message: "{text}" } } as const;
    await send({ ...INNER, method: "POST", url, body });
    const fields = new URLSearchParams(server!.heard[0]!.body);
    expect([...fields]).toEqual([
      ["number", "+4915155501234"],
      ["message", envelopeTo("").text],
    ]);
  });

  it("is filled into the address", async () => {
    const url = `${await gateway((_, reply) => reply.end())}/to/{to}?m={text}`;
    await send({ ...INNER, method: "GET", url, body: { as: "none" } });
    const asked = new URL(server!.heard[0]!.url, "http://x");
    expect(asked.pathname).toBe("/to/%2B4915155501234");
    expect([...asked.searchParams]).toEqual([["m", envelopeTo("").text]]);
  });

  it("no text becomes structure", () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const filling = { to: "+1", text, key: "k" };
        expect(fillJson({ a: "{text}", b: [1, null, true] }, filling)).toEqual({
          a: text,
          b: [1, null, true],
        });
        const url = new URL(
          `https://x.example/{to}?m={text}&n=1`.replace(/.*/su, (all) =>
            fill(all, filling, encodeURIComponent),
          ),
        );
        expect(url.searchParams.get("n")).toBe("1");
        expect(url.host).toBe("x.example");
      }),
    );
  });
});

describe("what the gateway says", () => {
  it.each<[string, number, string, SendOutcome["outcome"]]>([
    ["taken", 200, '{"state":"queued"}', "accepted"],
    ["taken by its status, not by its words", 200, '{"state":"odd"}', "later"],
    ["not a number it serves", 200, '{"state":"bad-number"}', "refused"],
    ["not a number, by status", 422, "", "refused"],
    ["the account is not known", 401, "", "later"],
    ["no credit", 402, "", "later"],
    ["the address of the gateway is wrong", 404, "", "later"],
    ["busy", 429, "", "later"],
    ["broken", 500, "", "later"],
  ])("%s", async (_, status, body, outcome) => {
    const url = await gateway((__, reply) => reply.writeHead(status).end(body));
    const reply = { holds: "queued", refusesWith: "bad-number" };
    expect((await send({ ...INNER, method: "POST", url, body: json, reply })).outcome).toBe(outcome);
  });

  it("an inner gateway that is not allowed is a fault of the settings, not of the number", async () => {
    const url = await gateway((_, reply) => reply.end());
    expect(await send({ allowPlainHttp: true, method: "POST", url, body: json })).toMatchObject({
      outcome: "later",
    });
    expect(server!.heard).toEqual([]);
  });

  it.each(["ann", "+49 12 <b>", "++49", "1", ""])("%j is no number", async (address) => {
    const options = { ...INNER, method: "POST", url: "http://127.0.0.1:9/", body: json } as const;
    expect(await send(options, address)).toMatchObject({ outcome: "refused" });
  });
});

describe("a template that cannot work is not taken", () => {
  const good: SmsOptions = { method: "POST", url: "https://gateway.example/send", body: json };
  it.each<[string, Partial<SmsOptions>, RegExp]>([
    ["a placeholder nobody fills", { url: "https://gateway.example/{secret}" }, /\{secret\}/u],
    ["no text", { body: { as: "form", fields: { to: "{to}" } } }, /no \{text\}/u],
    ["no number", { body: { as: "form", fields: { m: "{text}" } } }, /no \{to\}/u],
    ["a host that is filled", { url: "https://{to}/send" }, /host/u],
    ["a header with a line end", { headers: { "x-a": "b\r\nc: d" } }, /x-a/u],
  ])("%s", (_, change, reason) => {
    expect(() => smsChannel({ ...good, ...change }, stillClock(T))).toThrow(reason);
  });
});
