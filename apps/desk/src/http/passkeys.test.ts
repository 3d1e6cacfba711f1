import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { invite } from "../accounts/invitations.ts";
import { type Asked, Authenticator } from "./authenticator.fixture.ts";
import { DAWN, ORIGIN, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

const RP = "desk.example.org";
const PASSWORD = "a long enough password";
let now: number;
let desk: ServedDesk;
let session: string;
let authenticator: Authenticator;

async function post(url: string, body?: object, { cookie = "", origin = ORIGIN } = {}) {
  const reply = await desk.app.inject({
    method: "POST",
    url,
    headers: { origin, ...(cookie === "" ? {} : { cookie: `__Host-earthbell=${cookie}` }) },
    ...(body === undefined ? {} : { payload: body }),
  });
  const given = reply.cookies.find(({ name, value }) => name === "__Host-earthbell" && value !== "");
  return { status: reply.statusCode, said: reply.json<never>(), session: given?.value ?? null };
}

async function question(url: string, cookie = ""): Promise<string> {
  return ((await post(url, undefined, { cookie })).said as { challenge: string }).challenge;
}
const asked = (challenge: string, lies: Partial<Asked> = {}): Asked => ({
  challenge,
  origin: ORIGIN,
  rpId: RP,
  ...lies,
});

async function register(lies: Partial<Asked> = {}) {
  const challenge = await question("/api/passkeys/question", session);
  const response = authenticator.register(asked(challenge, lies));
  return post("/api/passkeys", { label: "phone", response }, { cookie: session });
}
const toSignIn = (): Promise<string> => question("/api/sign-in/passkey/question");
const signIn = (answer: object) => post("/api/sign-in/passkey", answer);
const REFUSED = { status: 401, said: { error: { code: "ACCOUNT_PASSKEY_FAILED" } }, session: null };

beforeEach(async () => {
  now = DAWN;
  desk = await servedDesk(() => now);
  authenticator = new Authenticator();
  const token = await invite(desk.store, { role: "service", sites: null }, { by: "test", at: now });
  const joined = await post(`/api/join/${token}`, { name: "Ann Lee", password: PASSWORD });
  session = joined.session!;
});
afterEach(() => desk.close());

describe("a passkey", () => {
  it("that was added signs its person in, again and again, each time by a new question", async () => {
    expect(await register()).toMatchObject({ status: 200, said: { label: "phone" } });
    for (let time = 0; time < 2; time++) {
      const answer = await signIn(authenticator.signIn(asked(await toSignIn())));
      expect(answer).toMatchObject({ status: 200, said: { name: "Ann Lee", role: "service" } });
      expect(answer.session).not.toBeNull();
    }
  });

  it("is not added from another origin, for another desk, without its person, or to a question nobody asked", async () => {
    const lies: readonly Partial<Asked>[] = [
      { origin: "https://desk.example.com" },
      { rpId: "example.com" },
      { verified: false },
      { challenge: Buffer.from("a question of nobody").toString("base64url") },
    ];
    for (const lie of lies) expect(await register(lie)).toMatchObject(REFUSED);
    expect(await desk.store.db.selectFrom("passkey").selectAll().execute()).toEqual([]);
  });
});

describe("signing in by passkey", () => {
  beforeEach(register);

  it("is refused from another origin, for another desk and without its person", async () => {
    const lies: readonly Partial<Asked>[] = [
      { origin: "https://desk.example.com" },
      { origin: "http://desk.example.org" },
      { rpId: "example.com" },
      { verified: false },
    ];
    for (const lie of lies)
      expect(await signIn(authenticator.signIn(asked(await toSignIn(), lie)))).toMatchObject(REFUSED);
  });

  it("takes an answer once: the same one again is refused", async () => {
    const answer = authenticator.signIn(asked(await toSignIn()));
    expect((await signIn(answer)).status).toBe(200);
    expect(await signIn(answer)).toMatchObject(REFUSED);
  });

  it("refuses a new answer to a question that was answered, or is older than five minutes", async () => {
    const challenge = await toSignIn();
    expect((await signIn(authenticator.signIn(asked(challenge)))).status).toBe(200);
    expect(await signIn(authenticator.signIn(asked(challenge)))).toMatchObject(REFUSED);
    const old = await toSignIn();
    now += 5 * 60_000 + 1;
    expect(await signIn(authenticator.signIn(asked(old)))).toMatchObject(REFUSED);
  });

  it("refuses a copy of the authenticator, whose counter stands lower", async () => {
    for (let time = 0; time < 3; time++)
      expect((await signIn(authenticator.signIn(asked(await toSignIn())))).status).toBe(200);
    authenticator.copied();
    expect(await signIn(authenticator.signIn(asked(await toSignIn())))).toMatchObject(REFUSED);
  });

  it("refuses another authenticator, and the account of somebody who left", async () => {
    expect(await signIn(new Authenticator().signIn(asked(await toSignIn())))).toMatchObject(REFUSED);
    await desk.store.amend((tx) => tx.updateTable("account").set({ disabled_at: now }).execute());
    expect(await signIn(authenticator.signIn(asked(await toSignIn())))).toMatchObject(REFUSED);
  });

  it("is not asked by the page of somebody else", async () => {
    const answer = authenticator.signIn(asked(await toSignIn()));
    const foreign = await post("/api/sign-in/passkey", answer, { origin: "https://elsewhere.example.org" });
    expect(foreign).toMatchObject({ status: 403, said: { error: { code: "REQUEST_FOREIGN" } } });
  });
});
