import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Bearer } from "../accounts/access.ts";
import { invite } from "../accounts/invitations.ts";
import { makeOwnerLink } from "../accounts/owner-links.ts";
import { DOORS, MATRIX, OWN_ACCOUNT, routesOf, type Touched } from "./access-matrix.fixture.ts";
import { makePersonToken, makeSiteToken } from "./make-token.ts";
import { askDesk, CREAMERY, DAWN, ORIGIN, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

type Headers = Readonly<Record<string, string>>;
let desk: ServedDesk;

beforeEach(async () => {
  desk = await servedDesk(() => DAWN);
  await desk.watch.putSite(CREAMERY, "test");
  await desk.watch.putSite(CREAMERY.replace(/creamery/giu, "dairy"), "test");
  const fault = { array: "A1", device: "INV1", at: DAWN, kind: "earth-fault-bit", value: true } as const;
  const of = { ...fault, site: "creamery", unit: "bit", quality: "good", source: "test", key: "k" } as const;
  await desk.watch.accept([of]);
  const ann = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: DAWN });
  const paper = { kind: "owner-notice", site: "creamery", formats: ["html"] };
  await askDesk(desk, ann, ["POST", "/api/papers"], paper);
});
afterEach(() => desk.close());

async function ask(
  { route, url, body, type }: Pick<Touched, "route" | "url" | "body" | "type">,
  by: Headers,
) {
  const [method = ""] = route.split(" ");
  const raw = typeof body === "string" || body instanceof Buffer;
  const reply = await desk.app.inject({
    method: method as "GET",
    url,
    headers: {
      origin: ORIGIN,
      ...by,
      ...(body === undefined ? {} : { "content-type": type ?? (raw ? "text/yaml" : "application/json") }),
    },
    ...(body === undefined ? {} : { payload: raw ? body : JSON.stringify(body) }),
  });
  const json = reply.headers["content-type"]?.toString().startsWith("application/json") ?? false;
  return { status: reply.statusCode, said: json ? reply.json<unknown>() : reply.body, reply };
}

/** What somebody of a role sends with a request: a cookie or a token, bound to one site where the role is. */
async function by(role: Bearer["role"], site: string): Promise<Headers> {
  if (role === "site") {
    const token = await makeSiteToken(desk.store, site, { label: "logger", by: "test", at: DAWN });
    return { authorization: `Bearer ${token!}` };
  }
  const opened = role === "link" ? await lookBy(site) : await joinAs(role, site);
  return { cookie: `${opened.name}=${opened.value}` };
}

async function lookBy(site: string) {
  const wanted = { label: "Owner", sites: [site], days: 3 };
  const token = await makeOwnerLink(desk.store, wanted, { by: "test", at: DAWN });
  const { reply } = await ask({ route: "POST", url: "/api/look", body: { token } }, {});
  return reply.cookies.find(({ value }) => value !== "")!;
}

async function joinAs(role: Exclude<Bearer["role"], "site" | "link">, site: string) {
  const sites = role === "service" || role === "technician" ? null : [site];
  const token = await invite(desk.store, { role, sites }, { by: "test", at: DAWN });
  const body = { name: "Ann Lee", password: "a long enough password" };
  const { reply } = await ask({ route: "POST", url: `/api/join/${token}`, body }, {});
  return reply.cookies.find(({ value }) => value !== "")!;
}

const STREAM = "GET /api/live";
/** A table of many sites is refused cell by cell. */
const REFUSED_CELL = /may not do this|bound to other sites/u;

function isRefused({ status, said }: { readonly status: number; readonly said: unknown }): boolean {
  return [401, 403].includes(status) || (status === 422 && REFUSED_CELL.test(JSON.stringify(said)));
}

function lineOf({ route, body }: Touched, outcome: unknown): string {
  return `${route} ${JSON.stringify(body ?? null).slice(0, 60)}: ${String(outcome)}`;
}

describe("the matrix of who may do what", () => {
  it("names every address of the desk, and none that is not there", () => {
    const served = routesOf(desk.app);
    const named = [...MATRIX, ...OWN_ACCOUNT].map(({ route }) => route).concat(Object.keys(DOORS));
    expect(served.filter((route) => !named.includes(route))).toEqual([]);
    expect(named.filter((route) => !served.includes(route))).toEqual([]);
  });

  it("is held against a list that has every address that the desk describes", async () => {
    const { said } = await ask({ route: "GET", url: "/openapi.json" }, {});
    const { paths } = said as { readonly paths: Readonly<Record<string, object>> };
    const described = Object.entries(paths).flatMap(([url, methods]) =>
      Object.keys(methods).map((method) => `${method.toUpperCase()} ${url.replace(/\{(\w+)\}/gu, ":$1")}`),
    );
    expect(described.length).toBeGreaterThan(80);
    expect(described.filter((route) => !routesOf(desk.app).includes(route))).toEqual([]);
  });

  it.each(["service", "technician", "installer", "owner", "link", "site"] as const)("%s", async (role) => {
    const headers = await by(role, "creamery");
    const [said, wanted]: [string[], string[]] = [[], []];
    for (const touched of MATRIX) {
      if (touched.route === STREAM && touched.may.includes(role)) continue;
      const answer = await ask(touched, headers);
      said.push(lineOf(touched, answer.status === 400 ? "a bad request" : !isRefused(answer)));
      wanted.push(lineOf(touched, touched.may.includes(role)));
    }
    expect(said).toEqual(wanted);
  });

  it.each(["installer", "owner", "link", "site"] as const)(
    "%s bound to another site sees and touches nothing of this one",
    async (role) => {
      const headers = await by(role, "dairy");
      const told: string[] = [];
      for (const touched of MATRIX) {
        if (touched.route === STREAM) continue;
        const answer = await ask(touched, headers);
        if (isRefused(answer)) continue;
        // What is answered is theirs or about no site; a draft, a key or a photo that is not there says no more than that.
        const mentions = /creamery/iu.test(JSON.stringify(answer.said));
        const fits = [200, 404].includes(answer.status) && !mentions;
        if (!fits) told.push(lineOf(touched, `${String(answer.status)} ${JSON.stringify(answer.said)}`));
      }
      expect(told).toEqual([]);
    },
  );

  it("lets nobody further than the door who is not signed in", async () => {
    const all = [...MATRIX, ...OWN_ACCOUNT];
    const said: string[] = [];
    for (const touched of all) said.push(lineOf(touched, (await ask(touched, {})).status));
    expect(said).toEqual(all.map((touched) => lineOf(touched, 401)));
  });

  it.each(["link", "site"] as const)("gives %s no account of its own", async (role) => {
    const headers = await by(role, "creamery");
    for (const touched of OWN_ACCOUNT)
      expect([touched.route, (await ask(touched, headers)).status]).toEqual([touched.route, 403]);
  });
});
