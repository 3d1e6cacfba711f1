import { readFileSync } from "node:fs";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { invite } from "../accounts/invitations.ts";
import { makePersonToken } from "./make-token.ts";
import { askDesk, CREAMERY, DAWN as NOW, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

const RESULTS = readFileSync(
  new URL("../../../../demo/commissioning/creamery-2026-02-03.yaml", import.meta.url),
  "utf8",
).replace(/^settings:[\s\S]*?^drills:/mu, "drills:");
const SHEET = `format: earthbell.setting-sheet/1
id: gannet
device: {family: Gannet (invented)}
by: a team
reviewedOn: 2026-11-02
steps:
  - {do: Read the threshold., source: design record, tag: computed}
`;

let desk: ServedDesk;
let token: string;
beforeEach(async () => {
  desk = await servedDesk(() => NOW);
  token = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: NOW });
  await ask("PUT", "/api/sites/creamery", CREAMERY);
});
afterEach(() => desk.close());

const ask = (method: "GET" | "POST" | "PUT", url: string, body?: unknown, headers?: Headers) =>
  askDesk(desk, token, [method, url], body, headers);
type Headers = Readonly<Record<string, string>>;
const issue = (body: object) => ask("POST", "/api/papers", { formats: ["html"], ...body });

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

describe("what was entered for the newest revision", () => {
  it("of a commissioning record is its results, and nothing where it is filled in by hand", async () => {
    const url = "/api/sites/creamery/commissioning";
    const code = (said: unknown): unknown => (said as { error: { code: string } }).error.code;
    expect(code((await ask("GET", url)).said)).toBe("REQUEST_UNKNOWN");
    await issue({ kind: "commissioning-record", site: "creamery" });
    expect(code((await ask("GET", url)).said)).toBe("REQUEST_UNKNOWN");
    await issue({ kind: "commissioning-record", site: "creamery", results: RESULTS });
    expect((await ask("GET", url)).said).toMatchObject({
      revision: 2,
      by: "Ann Lee",
      entered: { on: "2026-02-03", drills: [{ path: "P1" }, { path: "P2" }] },
    });
    const other = await ask("GET", url, undefined, await bound("owner", "ferry-shed"));
    expect(code(other.said)).toBe("REQUEST_NOT_ALLOWED");
  });

  it("names its setting sheets, which the record compares with those of the desk", async () => {
    await issue({ kind: "setting-sheet", text: SHEET });
    const list = "/api/sites/creamery/setting-sheets";
    const [held] = (await ask("GET", list)).said as [{ readonly digest: string }];
    expect(held).toMatchObject({ sheet: "gannet", family: "Gannet (invented)", revision: 1 });
    const one = await ask("GET", `${list}/gannet`, undefined, await bound("installer", "creamery"));
    expect(one.said).toMatchObject({ ...held, holds: { steps: [{ do: "Read the threshold." }] } });
    const ticked = `settings:
  - sheet: gannet
    title: Gannet (invented)
    revision: 1
    digest: ${held.digest}
    steps:
      - {step: 1, do: Read the threshold., done: true, by: M. Orrin, on: 2026-02-03}
`;
    const record = { kind: "commissioning-record", site: "creamery" };
    const html = async (results: string): Promise<string> => {
      const { said } = await ask("POST", "/api/papers/drafts", { ...record, results });
      const { draft } = said as { readonly draft: string };
      const page = await desk.app.inject({
        url: `/api/papers/drafts/${draft}`,
        headers: { authorization: `Bearer ${token}` },
      });
      return page.body;
    };
    const now = await html(RESULTS + ticked);
    expect(now).toContain("Written by a team, last read on 2 November 2026");
    expect(now).not.toContain("Changed since it was ticked");
    await issue({ kind: "setting-sheet", text: SHEET.replace("Read the", "Write the") });
    expect(await html(RESULTS + ticked)).toContain(
      "Changed since it was ticked: setting sheet gannet, revision 1",
    );
    const altered = await issue({
      ...record,
      results: RESULTS + ticked.replace(held.digest, await digestNow()),
    });
    expect(JSON.stringify(altered.said)).toContain("COMMISSIONING_SHEET_ALTERED");
    for (const who of [await bound("owner", "creamery"), await bound("installer", "ferry-shed")])
      expect((await ask("GET", list, undefined, who)).said).toMatchObject({
        error: { code: "REQUEST_NOT_ALLOWED" },
      });
    async function digestNow(): Promise<string> {
      return ((await ask("GET", list)).said as [{ readonly digest: string }])[0].digest;
    }
  });

  it("of a setting sheet is the sheet as it was last issued, for those who may issue papers of the whole desk", async () => {
    await issue({ kind: "setting-sheet", text: SHEET });
    await issue({ kind: "setting-sheet", text: SHEET.replace("Read the", "Write the") });
    const url = "/api/setting-sheets/gannet";
    expect((await ask("GET", url)).said).toMatchObject({
      number: "setting-sheet gannet",
      revision: 2,
      entered: { device: { family: "Gannet (invented)" }, steps: [{ do: "Write the threshold." }] },
    });
    for (const role of ["owner", "installer"] as const) {
      const refused = await ask("GET", url, undefined, await bound(role, "creamery"));
      expect(refused.said).toMatchObject({ error: { code: "REQUEST_NOT_ALLOWED" } });
    }
  });
});
