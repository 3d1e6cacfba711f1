import { createPrivateKey, createPublicKey, generateKeyPairSync, sign, verify } from "node:crypto";
import { signatureText } from "@earthbell/papers";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { invite } from "../accounts/invitations.ts";
import { journalAfter } from "../store/index.ts";
import { makePersonToken } from "./make-token.ts";
import { askDesk, CREAMERY, DAWN as NOW, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

let desk: ServedDesk;
let token: string;

beforeEach(async () => {
  desk = await servedDesk(() => NOW);
  token = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: NOW });
  await ask("PUT", "/api/sites/creamery", CREAMERY);
});
afterEach(() => desk.close());

type Headers = Readonly<Record<string, string>>;

const ask = (method: "GET" | "POST" | "PUT", url: string, body?: unknown, headers?: Headers) =>
  askDesk(desk, token, [method, url], body, headers);

interface Key {
  readonly id: string;
  readonly pem: string;
  readonly current: boolean;
}
const keys = async (): Promise<readonly Key[]> => (await ask("GET", "/api/papers/keys")).said;

async function issued(): Promise<string> {
  const { said } = await ask("POST", "/api/papers", {
    kind: "owner-notice",
    site: "creamery",
    formats: ["html"],
  });
  return (said as { files: string[] }).files[0]!;
}

async function file(name: string): Promise<Buffer> {
  return (await ask("GET", `/api/papers/files/${name}`)).bytes;
}

async function listed(): Promise<unknown> {
  const { said } = await ask("GET", "/api/sites/creamery/papers");
  const [notice] = said as { revisions: { files: { signature: string }[] }[] }[];
  return notice!.revisions.at(-1)!.files.map(({ signature }) => signature);
}

const verdict = async (bytes: Buffer, signature?: string): Promise<unknown> => {
  const query = signature === undefined ? "" : `?signature=${encodeURIComponent(signature)}`;
  return ((await ask("POST", `/api/papers/verify${query}`, bytes)).said as { signature: unknown }).signature;
};

describe("a paper that the desk issued", () => {
  it("has a signature beside it that openssl's Ed25519 takes, by the key that the desk hands out", async () => {
    const name = await issued();
    const { signature } = JSON.parse((await file(`${name}.sig`)).toString()) as { signature: string };
    const [key] = await keys();
    const pem = (await ask("GET", `/api/papers/keys/${key!.id}`)).text;
    expect(pem).toBe(key!.pem);
    expect(verify(null, await file(name), createPublicKey(pem), Buffer.from(signature, "base64"))).toBe(true);
  });

  it("is valid, and stays so when the desk signs with another key", async () => {
    const name = await issued();
    const bytes = await file(name);
    const [before] = await keys();
    expect(await verdict(bytes)).toEqual({ verdict: "valid", key: before!.id });
    expect((await ask("POST", "/api/papers/keys")).status).toBe(200);
    expect((await keys()).map(({ current }) => current)).toEqual([true, false]);
    expect(await verdict(bytes)).toEqual({ verdict: "valid", key: before!.id });
    expect(await listed()).toEqual(["valid"]);
  });

  it("is told apart from an altered one, and from one that somebody else signed", async () => {
    const name = await issued();
    const [bytes, signature] = [await file(name), (await file(`${name}.sig`)).toString()];
    const altered = Buffer.concat([bytes, Buffer.from(" ")]);
    expect(await verdict(altered, signature)).toMatchObject({ verdict: "altered" });
    const { privateKey } = generateKeyPairSync("ed25519");
    const publicKey = createPublicKey(createPrivateKey(privateKey.export({ format: "pem", type: "pkcs8" })))
      .export({ format: "der", type: "spki" })
      .toString("base64");
    const theirs = signatureText({
      file: name,
      publicKey,
      signature: sign(null, bytes, privateKey).toString("base64"),
    });
    expect(await verdict(bytes, theirs)).toEqual({ verdict: "unknown-key", key: null });
    expect(await verdict(bytes, "no signature")).toEqual({ verdict: "unsigned", key: null });
    expect(await verdict(altered)).toBeNull();
  });

  it("never shows the private key: not in an answer, not in the journal", async () => {
    const name = await issued();
    await ask("POST", "/api/papers/keys");
    const answers = await Promise.all(
      ["/api/papers/keys", "/api/papers", "/api/sites/creamery/papers", `/api/papers/files/${name}.sig`].map(
        async (url) => (await ask("GET", url)).text,
      ),
    );
    const journal = JSON.stringify(await journalAfter(desk.store.db, 0, 1000));
    for (const text of [...answers, journal]) expect(text).not.toContain("PRIVATE");
    for (const path of ["current.key", "..%2Fsigning%2Fcurrent.key", "current.key.sig"])
      expect((await ask("GET", `/api/papers/files/${path}`)).status).toBe(404);
  });

  it("gets a new key from those only who keep the desk, and the journal says by whom", async () => {
    const invitation = await invite(desk.store, { role: "technician", sites: null }, { by: "test", at: NOW });
    const joined = await desk.app.inject({
      method: "POST",
      url: `/api/join/${invitation}`,
      headers: { "x-earthbell-request": "1" },
      payload: { name: "Cat Moss", password: "a long enough password" },
    });
    const session = joined.cookies.find(({ name }) => name === "__Host-earthbell")!.value;
    const headers = { cookie: `__Host-earthbell=${session}`, "x-earthbell-request": "1", authorization: "" };
    expect((await ask("POST", "/api/papers/keys", undefined, headers)).status).toBe(403);
    await ask("POST", "/api/papers/keys");
    const rows = await journalAfter(desk.store.db, 0, 1000);
    expect(rows.find(({ text }) => text.includes("signed with the new key"))).toMatchObject({
      by: "Ann Lee",
    });
    expect((await ask("GET", "/api/papers/keys", undefined, { authorization: "" })).status).toBe(401);
  });
});
