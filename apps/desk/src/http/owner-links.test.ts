import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { makePersonToken } from "./make-token.ts";
import { CREAMERY, DAWN, ORIGIN, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

const DAY = 86_400_000;
let now: number;
let desk: ServedDesk;
let person: string;

beforeEach(async () => {
  now = DAWN;
  desk = await servedDesk(() => now);
  person = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: now });
  await desk.watch.putSite(CREAMERY, "Ann Lee");
  await desk.watch.putSite(CREAMERY.replace("id: creamery", "id: other"), "Ann Lee");
});
afterEach(() => desk.close());

interface Asked {
  readonly method?: "GET" | "POST" | "PUT" | "DELETE";
  readonly body?: object;
  readonly by?: Readonly<Record<string, string>>;
}

async function ask(
  url: string,
  { method = "GET", body, by = { authorization: `Bearer ${person}` } }: Asked = {},
) {
  const headers = { origin: ORIGIN, ...by };
  const reply = await desk.app.inject({
    method,
    url,
    headers,
    ...(body === undefined ? {} : { payload: body }),
  });
  const json = reply.headers["content-type"]?.toString().startsWith("application/json") ?? false;
  return {
    status: reply.statusCode,
    said: json ? reply.json<unknown>() : reply.body,
    cookies: reply.cookies,
  };
}

/** The token of a new link for the creamery. */
async function link(days = 30): Promise<string> {
  const body = { label: "Owner of the creamery", sites: ["creamery"], days };
  const made = await ask("/api/owner-links", { method: "POST", body });
  const { url } = made.said as { url: string };
  return url.slice(`${ORIGIN}/look/`.length);
}

/** What a browser sends that has opened a link. */
async function opened(token: string): Promise<Readonly<Record<string, string>>> {
  const { cookies } = await ask("/api/look", { method: "POST", body: { token }, by: {} });
  const [cookie] = cookies;
  return { cookie: `${cookie!.name}=${cookie!.value}` };
}

describe("an owner's link", () => {
  it("shows the own sites and nothing of others", async () => {
    const by = await opened(await link());
    expect((await ask("/api/me", { by })).said).toEqual({
      name: "Owner of the creamery, by a link",
      role: "owner",
      sites: ["creamery"],
      byLink: true,
    });
    const { said } = await ask("/api/sites", { by });
    expect((said as { id: string }[]).map(({ id }) => id)).toEqual(["creamery"]);
    expect((await ask("/api/sites/creamery", { by })).status).toBe(200);
    expect((await ask("/api/sites/other", { by })).status).toBe(403);
    expect((await ask("/api/alarms?site=other", { by })).status).toBe(403);
  });

  it.each<[string, "GET" | "POST" | "DELETE", object?]>([
    ["/api/settings", "GET"],
    ["/api/people", "GET"],
    ["/api/messages", "GET"],
    ["/api/journal/rows", "GET"],
    ["/api/owner-links", "GET"],
    ["/api/sites/creamery", "DELETE"],
    ["/api/sites/creamery/paths/P1/drills", "POST", {}],
    ["/api/owner-links", "POST", { label: "x", sites: ["creamery"], days: 1 }],
    ["/api/settings/tests", "POST", { channel: "email", to: "a@b.c" }],
  ])("opens no %s %s", async (url, method, body) => {
    const by = await opened(await link());
    const { status } = await ask(url, { method, by, ...(body === undefined ? {} : { body }) });
    expect([403, 404]).toContain(status);
  });

  it("ends on its day, and at once when it is revoked, also where it is open", async () => {
    const by = await opened(await link(2));
    now = DAWN + 2 * DAY - 1;
    expect((await ask("/api/sites", { by })).status).toBe(200);
    now = DAWN + 2 * DAY;
    expect((await ask("/api/sites", { by })).status).toBe(401);

    const token = await link();
    const other = await opened(token);
    const list = (await ask("/api/owner-links")).said as { id: string; openedAt: number }[];
    expect(list).toMatchObject([{ label: "Owner of the creamery", openedAt: now, issuedBy: "Ann Lee" }]);
    await ask(`/api/owner-links/${list[0]!.id}/end`, { method: "POST", body: {} });
    expect((await ask("/api/sites", { by: other })).status).toBe(401);
    expect((await ask("/api/look", { method: "POST", body: { token }, by: {} })).status).toBe(410);
    expect((await ask("/api/owner-links")).said).toEqual([]);
  });

  it("is kept as a hash, and every step of it is on record", async () => {
    const token = await link();
    await opened(token);
    const [row] = await desk.store.db.selectFrom("owner_link").selectAll().execute();
    expect(JSON.stringify(row)).not.toContain(token);
    const texts = await desk.store.db
      .selectFrom("journal")
      .select("text")
      .where("subject", "=", row!.id)
      .execute();
    expect(texts.map(({ text }) => text)).toEqual([
      "Link to look at creamery, made for Owner of the creamery, until 2026-12-24.",
      "The link made for Owner of the creamery was opened for the first time.",
    ]);
  });

  it.each([
    [{ label: "x", sites: ["nowhere"], days: 1 }],
    [{ label: "x", sites: [], days: 1 }],
    [{ label: "x", sites: ["creamery"], days: 401 }],
    [{ label: "", sites: ["creamery"], days: 1 }],
  ])("is not made from %j", async (body) => {
    expect((await ask("/api/owner-links", { method: "POST", body })).status).toBe(400);
  });

  it("opens nothing from another page, and no token that was never made", async () => {
    const token = await link();
    const foreign = { origin: "https://elsewhere.example" };
    expect((await ask("/api/look", { method: "POST", body: { token }, by: foreign })).status).toBe(403);
    const unknown = { token: `eb_${"x".repeat(43)}` };
    expect((await ask("/api/look", { method: "POST", body: unknown, by: {} })).status).toBe(410);
  });
});
