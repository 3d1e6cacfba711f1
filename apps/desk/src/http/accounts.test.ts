import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { invite, inviteFirstPerson } from "../accounts/invitations.ts";
import type { Role } from "../accounts/access.ts";
import { CREAMERY, DAWN, ORIGIN, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

const PASSWORD = "a long enough password";
let now: number;
let desk: ServedDesk;

beforeEach(async () => {
  now = DAWN;
  desk = await servedDesk(() => now);
});
afterEach(() => desk.close());

interface Ask {
  readonly method?: "GET" | "POST" | "PUT" | "DELETE";
  readonly body?: unknown;
  readonly cookie?: string;
  readonly origin?: string | null;
}

async function ask(url: string, { method = "GET", body, cookie, origin = ORIGIN }: Ask = {}) {
  const text = typeof body === "string";
  const reply = await desk.app.inject({
    method,
    url,
    headers: {
      ...(origin === null ? {} : { origin }),
      ...(cookie === undefined ? {} : { cookie: `__Host-earthbell=${cookie}` }),
      ...(body === undefined ? {} : { "content-type": text ? "text/yaml" : "application/json" }),
    },
    ...(body === undefined ? {} : { payload: text ? body : JSON.stringify(body) }),
  });
  const session = reply.cookies.find(({ name, value }) => name === "__Host-earthbell" && value !== "");
  const json = reply.headers["content-type"]?.toString().startsWith("application/json") ?? false;
  return {
    status: reply.statusCode,
    said: json ? reply.json<never>() : reply.body,
    session,
    headers: reply.headers,
  };
}

async function account(name: string, role: Role, sites: readonly string[] | null = null): Promise<string> {
  const token = await invite(desk.store, { role, sites }, { by: "test", at: now });
  const { session } = await ask(`/api/join/${token}`, { method: "POST", body: { name, password: PASSWORD } });
  return session!.value;
}

describe("the first person", () => {
  it("comes in by the link that the desk prints, once", async () => {
    const token = (await inviteFirstPerson(desk.store, now))!;
    expect((await ask(`/api/join/${token}`)).said).toMatchObject({ role: "service", sites: null });
    const first = await ask(`/api/join/${token}`, {
      method: "POST",
      body: { name: "Ann Lee", password: PASSWORD },
    });
    expect(first).toMatchObject({ status: 200, said: { name: "Ann Lee", role: "service" } });
    const again = await ask(`/api/join/${token}`, {
      method: "POST",
      body: { name: "Eve", password: PASSWORD },
    });
    expect(again).toMatchObject({ status: 410, said: { error: { code: "ACCOUNT_LINK_SPENT" } } });
    expect(await inviteFirstPerson(desk.store, now)).toBeNull();
  });

  it("has only the newest link, and three days for it", async () => {
    const old = (await inviteFirstPerson(desk.store, now))!;
    const newest = (await inviteFirstPerson(desk.store, now))!;
    expect((await ask(`/api/join/${old}`)).status).toBe(410);
    now += 3 * 86_400_000;
    expect((await ask(`/api/join/${newest}`)).status).toBe(410);
  });

  it("needs a password of twelve characters; nothing comes with one", async () => {
    const token = (await inviteFirstPerson(desk.store, now))!;
    const short = await ask(`/api/join/${token}`, {
      method: "POST",
      body: { name: "Ann", password: "short" },
    });
    expect(short).toMatchObject({ status: 400, said: { error: { fields: [{ field: "body.password" }] } } });
    expect(await desk.store.db.selectFrom("account").selectAll().execute()).toEqual([]);
  });
});

describe("signing in", () => {
  it("gives a cookie that no script reads and no other page sends", async () => {
    await account("Ann Lee", "service");
    const { session, said } = await ask("/api/sign-in", {
      method: "POST",
      body: { name: "Ann Lee", password: PASSWORD },
    });
    expect(said).toMatchObject({ name: "Ann Lee" });
    expect(session).toMatchObject({ httpOnly: true, secure: true, sameSite: "Strict", path: "/" });
    const rows = await desk.store.db.selectFrom("session").selectAll().execute();
    expect(JSON.stringify(rows)).not.toContain(session!.value);
  });

  it("answers alike whether the name or the password is wrong, and slows down after five", async () => {
    await account("Ann Lee", "service");
    const wrong = (name: string) =>
      ask("/api/sign-in", { method: "POST", body: { name, password: "wrong" } });
    expect((await wrong("Ann Lee")).said).toEqual((await wrong("Nobody")).said);
    for (let times = 0; times < 4; times++) await wrong("Ann Lee");
    const slowed = await ask("/api/sign-in", {
      method: "POST",
      body: { name: "Ann Lee", password: PASSWORD },
    });
    expect(slowed).toMatchObject({ status: 429, said: { error: { code: "ACCOUNT_WAIT" } } });
    expect(Number(slowed.headers["retry-after"])).toBeGreaterThan(0);
    now += 10_000;
    expect(
      (await ask("/api/sign-in", { method: "POST", body: { name: "Ann Lee", password: PASSWORD } })).status,
    ).toBe(200);
  });

  it("always begins a new session and ends the one before", async () => {
    const first = await account("Ann Lee", "service");
    const { session } = await ask("/api/sign-in", {
      method: "POST",
      body: { name: "Ann Lee", password: PASSWORD },
      cookie: first,
    });
    expect(session!.value).not.toBe(first);
    expect((await ask("/api/me", { cookie: first })).status).toBe(401);
    expect((await ask("/api/me", { cookie: session!.value })).status).toBe(200);
  });

  it("takes no cookie that somebody made up", async () => {
    const planted = "eb_planted-by-somebody-else";
    const token = await invite(desk.store, { role: "service", sites: null }, { by: "test", at: now });
    await ask(`/api/join/${token}`, {
      method: "POST",
      body: { name: "Ann", password: PASSWORD },
      cookie: planted,
    });
    expect((await ask("/api/me", { cookie: planted })).status).toBe(401);
  });

  it("ends by signing out, by disuse, and with the account", async () => {
    const ann = await account("Ann Lee", "service");
    const ben = await account("Ben Roe", "technician");
    const people = (await ask("/api/people", { cookie: ann })).said as unknown as readonly {
      id: string;
      name: string;
    }[];
    const id = people.find(({ name }) => name === "Ben Roe")!.id;
    expect((await ask(`/api/people/${id}/end`, { method: "POST", cookie: ann })).status).toBe(200);
    expect((await ask("/api/me", { cookie: ben })).status).toBe(401);
    expect(
      (await ask("/api/sign-in", { method: "POST", body: { name: "Ben Roe", password: PASSWORD } })).status,
    ).toBe(401);
    now += 15 * 86_400_000;
    expect((await ask("/api/me", { cookie: ann })).status).toBe(401);
    const carl = await account("Carl", "technician");
    await ask("/api/sign-out", { method: "POST", cookie: carl });
    expect((await ask("/api/me", { cookie: carl })).status).toBe(401);
  });
});

describe("a request that changes something", () => {
  it.each([
    ["another origin", "https://evil.example"],
    ["a sandbox", "null"],
    ["no origin and no header of the desk's own", null],
  ])("from %s is refused", async (_, origin) => {
    const ann = await account("Ann Lee", "service");
    const foreign = await ask("/api/sites/creamery", { method: "PUT", body: CREAMERY, cookie: ann, origin });
    expect(foreign).toMatchObject({ status: 403, said: { error: { code: "REQUEST_FOREIGN" } } });
    const signIn = { method: "POST", body: { name: "Ann Lee", password: PASSWORD }, origin } as const;
    expect((await ask("/api/sign-in", signIn)).status).toBe(403);
  });
});

describe("long lists of accounts and sites", () => {
  it("are asked for by what is typed, without case and accents, and so many at once", async () => {
    const ann = await account("Ann Lee", "service", null);
    await account("Zoë Orr", "installer", ["creamery"]);
    await account("Ben Orr", "technician", null);
    await desk.watch.putSite(CREAMERY, "test");
    await desk.watch.putSite(CREAMERY.replace("id: creamery", "id: mill"), "test");
    const told = async (url: string, cookie = ann): Promise<readonly string[]> => {
      const { said } = await ask(url, { cookie });
      return (said as unknown as readonly { name: string; id: string }[]).map(({ name }) => name);
    };
    expect(await told("/api/people")).toEqual(["Ann Lee", "Ben Orr", "Zoë Orr"]);
    expect(await told("/api/people?find=ORR&limit=1")).toEqual(["Ben Orr"]);
    expect(await told("/api/people?find=zoe%20creamery")).toEqual(["Zoë Orr"]);
    const ids = async (url: string, cookie = ann): Promise<readonly string[]> => {
      const { said } = await ask(url, { cookie });
      return (said as unknown as readonly { id: string }[]).map(({ id }) => id);
    };
    expect(await ids("/api/site-names?find=HENNICK")).toEqual(["creamery", "mill"]);
    expect(await ids("/api/site-names?find=mil&limit=1")).toEqual(["mill"]);
    expect(await ids("/api/site-names?find=nowhere")).toEqual([]);
  });

  it("name no site to somebody who may not see it", async () => {
    await desk.watch.putSite(CREAMERY, "test");
    const ines = await account("Ines", "installer", ["dairy"]);
    expect((await ask("/api/site-names?find=cream", { cookie: ines })).said).toEqual([]);
  });
});

describe("the journal", () => {
  it("is handed out whole, each row with the hash of the one before", async () => {
    const ann = await account("Ann Lee", "service");
    const text = (await ask("/api/journal", { cookie: ann })).said;
    const rows = text
      .trim()
      .split("\n")
      .map((line) => JSON.parse(line) as { hash: string; before_hash: string });
    expect(rows.length).toBeGreaterThan(0);
    for (const [at, row] of rows.entries()) if (at > 0) expect(row.before_hash).toBe(rows[at - 1]!.hash);
  });
});
