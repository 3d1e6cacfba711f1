import fastify from "fastify";
import { gunzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { sendPortions } from "./send-portions.ts";

async function* portionsOf(portions: readonly (readonly object[])[]): AsyncGenerator<readonly object[]> {
  for (const portion of portions) yield await Promise.resolve(portion);
}

async function sent(portions: readonly (readonly object[])[], headers: Record<string, string> = {}) {
  const app = fastify();
  app.get("/", (request, reply) => sendPortions(request, reply, portionsOf(portions)));
  const reply = await app.inject({ method: "GET", url: "/", headers });
  await app.close();
  return reply;
}

describe("a list sent in portions", () => {
  it.each([
    ["none", []],
    ["an empty one", [[]]],
    ["empty ones between others", [[], [{ a: 1 }], [], [{ a: 2 }, { a: 3 }], []]],
  ])("is the list, of %s", async (_, portions) => {
    expect((await sent(portions)).json()).toEqual(portions.flat());
  });

  it("is packed for whoever can unpack it", async () => {
    const { headers, rawPayload } = await sent([[{ a: 1 }], [{ a: 2 }]], { "accept-encoding": "gzip, br" });
    expect(headers["content-encoding"]).toBe("gzip");
    expect(JSON.parse(gunzipSync(rawPayload).toString())).toEqual([{ a: 1 }, { a: 2 }]);
  });

  it("whose first portion fails is no answer at all", async () => {
    const app = fastify();
    const failing = (): AsyncGenerator<readonly object[]> => {
      throw new Error("no store");
    };
    app.get("/", (request, reply) => sendPortions(request, reply, failing()));
    expect((await app.inject({ method: "GET", url: "/" })).statusCode).toBe(500);
    await app.close();
  });
});
