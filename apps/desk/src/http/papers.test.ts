import { readFileSync } from "node:fs";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { invite } from "../accounts/invitations.ts";
import type { PaperOffice } from "../papers/paper-office.ts";
import { journalAfter } from "../store/index.ts";
import { makePersonToken } from "./make-token.ts";
import { askDesk, CREAMERY, DAWN as NOW, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

const demo = (name: string): string =>
  readFileSync(new URL(`../../../../demo/${name}`, import.meta.url), "utf8");
const FERRY = demo("sites/ferry-shed.yaml");

let desk: ServedDesk;
let token: string;

beforeEach(async () => {
  desk = await servedDesk(() => NOW);
  token = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: NOW });
  for (const [site, text] of [
    ["creamery", CREAMERY],
    ["ferry-shed", FERRY],
  ] as const)
    await ask("PUT", `/api/sites/${site}`, text);
});
afterEach(() => desk.close());

const ask = (method: "GET" | "POST" | "PUT", url: string, body?: unknown, headers?: Headers) =>
  askDesk(desk, token, [method, url], body, headers);
type Headers = Readonly<Record<string, string>>;

const issue = (body: object, headers?: Headers) =>
  ask("POST", "/api/papers", { formats: ["html"], ...body }, headers);
const notice = { kind: "owner-notice", site: "creamery" };

/** An account bound to one site, by the cookie of its browser. */
async function bound(role: "owner" | "installer", site: string): Promise<Headers> {
  const invitation = await invite(desk.store, { role, sites: [site] }, { by: "test", at: NOW });
  const joined = await desk.app.inject({
    method: "POST",
    url: `/api/join/${invitation}`,
    headers: { "x-earthbell-request": "1" },
    payload: { name: `Bound to ${site}, ${role}`, password: "a long enough password" },
  });
  const { value } = joined.cookies.find(({ name }) => name === "__Host-earthbell")!;
  return { cookie: `__Host-earthbell=${value}`, "x-earthbell-request": "1", authorization: "" };
}

describe("papers of a desk", () => {
  it("that the disk does not take are to be asked for again, and the folder is nobody's business", async () => {
    const message = "Papers cannot be kept there: the disk is full.";
    const fault = { code: "FILE_FOLDER_UNUSABLE", file: "/srv/papers", message };
    const papers = { make: () => Promise.resolve({ ok: false, faults: [fault] }) } as unknown as PaperOffice;
    const full = await servedDesk(() => NOW, { papers });
    const mine = await makePersonToken(full.store, "Ann Lee", { by: "test", at: NOW });
    await askDesk(full, mine, ["PUT", "/api/sites/creamery"], CREAMERY);
    const body = { ...notice, formats: ["html"] };
    const { status, said } = await askDesk(full, mine, ["POST", "/api/papers"], body);
    expect({ status, said }).toMatchObject({ status: 503, said: { error: { code: "REQUEST_NOT_STORED" } } });
    expect(JSON.stringify(said)).not.toContain("/srv");
    await full.close();
  });

  it("are lacking until they are issued, current then, and outdated once the site file says otherwise", async () => {
    const stands = async (): Promise<unknown> => {
      const { said } = await ask("GET", "/api/papers");
      return (said as { sites: { id: string; papers: object }[] }).sites.find(({ id }) => id === "creamery")!
        .papers;
    };
    expect(await stands()).toMatchObject({ "owner-notice": "lacking", "design-record": "lacking" });
    expect((await issue(notice)).said).toMatchObject({ number: "owner-notice creamery", revision: 1 });
    await issue({ ...notice, kind: "design-record" });
    expect(await stands()).toMatchObject({ "owner-notice": "current", "design-record": "current" });
    await ask("PUT", "/api/sites/creamery", CREAMERY.replace("voc: 38.0 V", "voc: 38.5 V"));
    expect(await stands()).toMatchObject({ "owner-notice": "current", "design-record": "outdated" });
    const again = await issue({ ...notice, kind: "design-record" });
    expect(again.said).toMatchObject({ revision: 2, changed: 1, changes: [{ before: "38", now: "38.5" }] });
    expect(await stands()).toMatchObject({ "design-record": "current" });
    const { said } = await ask("GET", "/api/sites/creamery/papers");
    const record = (said as { kind: string; revisions: { by: string }[] }[]).find(
      ({ kind }) => kind === "design-record",
    )!;
    expect(record.revisions).toMatchObject([
      { revision: 1, by: "Ann Lee" },
      { revision: 2, by: "Ann Lee" },
    ]);
  });

  it("are counted for the sites asked for, and those that want one are named when they are to be made", async () => {
    await issue(notice);
    const { said } = await ask("GET", "/api/paper-states?find=creamery&kind=owner-notice&state=current");
    expect(said).toMatchObject({
      ...{ fits: 1, toMake: { "owner-notice": 0, "design-record": 1 } },
      sites: [{ id: "creamery", papers: { "owner-notice": "current" } }],
    });
    const wanting = async (paper: string): Promise<unknown> =>
      (await ask("GET", `/api/paper-states/to-make?paper=${paper}&find=creamery`)).said;
    expect([await wanting("owner-notice"), await wanting("design-record")]).toEqual([[], ["creamery"]]);
    expect((await ask("GET", "/api/papers/others")).said).toEqual([]);
    const elsewhere = await bound("owner", "elsewhere");
    expect((await ask("GET", "/api/paper-states", undefined, elsewhere)).said).toMatchObject({ count: 0 });
  });

  it("come out the same again where nothing changed, and say so", async () => {
    const [first, second] = [await issue(notice), await issue(notice)];
    expect([first.said, second.said]).toMatchObject([{ again: false }, { again: true, revision: 1 }]);
    const file = (first.said as { files: string[] }).files[0]!;
    expect((await ask("GET", `/api/papers/files/${file}`)).text).toContain("Hennick creamery");
  });

  it("are written into the journal under the name of who issued them", async () => {
    await issue(notice);
    const rows = await journalAfter(desk.store.db, 0, 1000);
    expect(rows.find(({ kind }) => kind === "paper")).toMatchObject({
      site: "creamery",
      subject: "owner-notice creamery",
      by: "Ann Lee",
    });
  });

  it("are shown as a draft that may do nothing in its frame, to who made it only", async () => {
    const { said } = await ask("POST", "/api/papers/drafts", notice);
    const { draft } = said as { draft: string };
    const shown = await ask("GET", `/api/papers/drafts/${draft}`);
    expect(shown.text).toContain("Hennick creamery");
    expect(shown.headers["content-security-policy"]).toContain("sandbox");
    expect(shown.headers["content-security-policy"]).toContain("default-src 'none'");
    const other = await makePersonToken(desk.store, "Ben Orr", { by: "test", at: NOW });
    const headers = { authorization: `Bearer ${other}` };
    expect((await ask("GET", `/api/papers/drafts/${draft}`, undefined, headers)).status).toBe(404);
    const { said: papers } = await ask("GET", "/api/sites/creamery/papers");
    expect((papers as { revisions: unknown[] }[]).every(({ revisions }) => revisions.length === 0)).toBe(
      true,
    );
  });

  it.each([
    ["a report of a visit", { kind: "fault-report", site: "creamery", name: "2026-08-14", text: "VISIT" }],
    ["the register", { kind: "fleet-register" }],
    ["a setting sheet", { kind: "setting-sheet", text: "SHEET" }],
  ])("are made of every kind: %s", async (_, body) => {
    const texts: Readonly<Record<string, string>> = {
      VISIT: demo("visits/creamery-2026-08-14.yaml"),
      SHEET: demo("settings/gannet-s.yaml"),
    };
    const text = "text" in body ? { text: texts[body.text] } : {};
    const made = await issue({ ...body, ...text });
    expect(made).toMatchObject({ status: 200, said: { revision: 1 } });
    const [file] = (made.said as { files: string[] }).files;
    expect((await ask("GET", `/api/papers/files/${encodeURIComponent(file!)}`)).status).toBe(200);
  });

  it("name every fault of a file with its line", async () => {
    const text = demo("settings/gannet-s.yaml").replace(/^by:.*$/mu, "by: 7");
    const { status, said } = await issue({ kind: "setting-sheet", text });
    expect(status).toBe(422);
    expect(said).toMatchObject({ error: { faults: [{ field: "by", line: expect.any(Number) as number }] } });
  });

  it("with results are not written over by an empty one unawares", async () => {
    const record = { kind: "commissioning-record", site: "creamery" };
    const results = demo("commissioning/creamery-2026-02-03.yaml");
    expect((await issue({ ...record, results })).status).toBe(200);
    expect((await issue(record)).said).toMatchObject({ error: { fields: [{ field: "body.results" }] } });
    expect((await issue({ ...record, blank: true })).said).toMatchObject({ revision: 2 });
  });

  it("are known again by their bytes, and the newest revision is named", async () => {
    const { said } = await issue(notice);
    const file = (said as { files: string[] }).files[0]!;
    const bytes = Buffer.from((await ask("GET", `/api/papers/files/${file}`)).text);
    await ask("PUT", "/api/sites/creamery", CREAMERY.replace("by the dairy door", "in the cellar"));
    await issue(notice);
    const verdict = await ask("POST", "/api/papers/verify", bytes);
    expect(verdict.said).toMatchObject({ issued: { revision: 1, newest: 2, by: "Ann Lee" } });
    const altered = Buffer.concat([bytes, Buffer.from(" ")]);
    expect((await ask("POST", "/api/papers/verify", altered)).said).toMatchObject({ issued: null });
  });
});

describe("who may see and issue papers", () => {
  it("an owner sees the papers of the own site, and issues none", async () => {
    const headers = await bound("owner", "creamery");
    const file = ((await issue(notice)).said as { files: string[] }).files[0]!;
    const others = ((await issue({ ...notice, site: "ferry-shed" })).said as { files: string[] }).files[0]!;
    expect((await ask("GET", `/api/papers/files/${file}`, undefined, headers)).status).toBe(200);
    expect((await ask("GET", `/api/papers/files/${others}`, undefined, headers)).status).toBe(403);
    expect((await ask("GET", "/api/sites/ferry-shed/papers", undefined, headers)).status).toBe(403);
    expect((await issue(notice, headers)).status).toBe(403);
    const { said } = await ask("GET", "/api/papers", undefined, headers);
    expect(said).toMatchObject({ sites: [{ id: "creamery" }], others: [] });
  });

  it("nobody bound to sites gets the register of all, as a paper, a draft or a file", async () => {
    const headers = await bound("installer", "creamery");
    const file = ((await issue({ kind: "fleet-register" })).said as { files: string[] }).files[0]!;
    const register = { kind: "fleet-register" };
    expect((await issue(register, headers)).status).toBe(403);
    expect((await ask("POST", "/api/papers/drafts", register, headers)).status).toBe(403);
    expect((await ask("GET", `/api/papers/files/${file}`, undefined, headers)).status).toBe(403);
    expect((await issue(notice, headers)).status).toBe(200);
  });

  it("a calendar gets the sites of its account by the secret in its address, until that is altered", async () => {
    const headers = await bound("owner", "creamery");
    const { said } = await ask("GET", "/api/calendar", undefined, headers);
    const { pathname, search } = new URL((said as { address: string }).address);
    const nobody = { authorization: "" };
    const feed = await ask("GET", pathname + search, undefined, nobody);
    expect(feed.headers["content-type"]).toContain("text/calendar");
    expect(feed.text).toContain("Hennick creamery");
    expect(feed.text).not.toContain("Ferry shed");
    const end = search.endsWith("A") ? "B" : "A";
    expect((await ask("GET", pathname + search.slice(0, -4) + end.repeat(4), undefined, nobody)).status).toBe(
      401,
    );
  });

  it.each(["/api/papers", "/api/sites/creamery/papers", "/api/papers/files/x.pdf", "/api/calendar"])(
    "GET %s wants a token",
    async (url) => {
      expect((await ask("GET", url, undefined, { authorization: "" })).status).toBe(401);
    },
  );
});
