import { mkdtempSync, readdirSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { siteFilesIn } from "../folder/site-files.ts";
import { journalAfter } from "../store/index.ts";
import { makePersonToken } from "./make-token.ts";
import { CREAMERY, DAWN as NOW, type ServedDesk, servedDesk } from "./served-desk.fixture.ts";

const FERRY = readFileSync(new URL("../../../../demo/sites/ferry-shed.yaml", import.meta.url), "utf8");
let desk: ServedDesk;
let folder: string;
let token: string;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "earthbell-sites-"));
  desk = await servedDesk(() => NOW, { siteFiles: siteFilesIn(folder) });
  token = await makePersonToken(desk.store, "Ann Lee", { by: "test", at: NOW });
  await ask("PUT", "/api/sites/creamery", CREAMERY);
  await ask("PUT", "/api/sites/ferry-shed", FERRY);
});
afterEach(() => desk.close());

async function ask(
  method: "GET" | "PUT" | "POST" | "DELETE",
  url: string,
  body?: string,
  type = "text/yaml",
) {
  const headers = { authorization: `Bearer ${token}` };
  const reply = await desk.app.inject({
    method,
    url,
    headers: body === undefined ? headers : { ...headers, "content-type": type },
    ...(body === undefined ? {} : { payload: body }),
  });
  return { status: reply.statusCode, said: reply.json<never>() as Answer };
}

interface Answer {
  readonly revision: number;
  readonly sites: readonly {
    readonly site: string;
    readonly rewritten: boolean;
    readonly changes: readonly object[];
  }[];
  readonly unchanged: number;
  readonly error: { readonly code: string; readonly faults: readonly object[] };
}

const inFolder = (name: string): string => readFileSync(join(folder, name), "utf8");

describe("a site file that is changed at the desk", () => {
  it("is changed in the folder too, whole, and the journal says by whom", async () => {
    const text = CREAMERY.replace("Hennick creamery", "Hennick dairy");
    expect((await ask("PUT", "/api/sites/creamery?from=1", text)).said.revision).toBe(2);
    expect(inFolder("creamery.yaml")).toBe(text);
    expect(readdirSync(folder).sort()).toEqual(["creamery.yaml", "ferry-shed.yaml"]);
    const rows = await journalAfter(desk.store.db, 0, 1000);
    expect(rows.find(({ text: said }) => said.includes("revision 2"))).toMatchObject({ by: "Ann Lee" });
  });

  it("is not written over a change that somebody made meanwhile", async () => {
    await ask("PUT", "/api/sites/creamery?from=1", CREAMERY.replace("38.0 V", "38.5 V"));
    const late = await ask("PUT", "/api/sites/creamery?from=1", CREAMERY.replace("38.0 V", "39.0 V"));
    expect(late).toMatchObject({ status: 409, said: { error: { code: "SITE_FILE_CHANGED" } } });
    expect(inFolder("creamery.yaml")).toContain("38.5 V");
  });

  it("with faults changes neither the desk nor the folder", async () => {
    const { status } = await ask("PUT", "/api/sites/creamery", CREAMERY.replace("38.0 V", "38.0 W"));
    expect(status).toBe(422);
    expect(inFolder("creamery.yaml")).toBe(CREAMERY);
    expect(readdirSync(folder)).toHaveLength(2);
  });

  it("that is removed is laid aside", async () => {
    await ask("DELETE", "/api/sites/creamery");
    expect(readdirSync(folder).sort()).toEqual(["creamery.yaml.removed", "ferry-shed.yaml"]);
  });
});

describe("changes by a table", () => {
  const table =
    "site,name,owner_told,path,proof,on,by,acknowledged_after\n" +
    "creamery,Hennick dairy,,P1,drill,2026-11-20,A. Lee,9\n" +
    "creamery,,,P2,test-resistor,2026-11-20,,\n" +
    'ferry-shed,"Ferry shed, Orlee",,,,,,\n';

  it("are shown first and change nothing, and are then each the next revision of their file", async () => {
    const before = await ask("POST", "/api/register/preview", table, "text/csv");
    expect(before.said).toMatchObject({
      unchanged: 1,
      sites: [
        {
          site: "creamery",
          rewritten: false,
          changes: [
            { line: 2, what: "name", before: "Hennick creamery", now: "Hennick dairy" },
            { line: 2, what: "newest drill of P1", before: "2026-02-03", now: "2026-11-20" },
            { line: 3, what: "newest test-resistor of P2", before: "2026-02-03", now: "2026-11-20" },
          ],
        },
      ],
    });
    expect(inFolder("creamery.yaml")).toBe(CREAMERY);
    await ask("POST", "/api/register/apply", table, "text/csv");
    expect(inFolder("creamery.yaml")).toContain('name: "Hennick dairy"');
    expect(inFolder("creamery.yaml")).toContain("# Creamery, Hennick.");
    const again = await ask("POST", "/api/register/preview", table, "text/csv");
    expect(again.said).toMatchObject({ sites: [], unchanged: 3 });
  });

  it("with a wrong cell change nothing at all, and every wrong cell is named", async () => {
    const wrong = `${table}mill,Mill,,,,,,\ncreamery,,,P9,drill,2026-11-20,,\n`;
    const { status, said } = await ask("POST", "/api/register/apply", wrong, "text/csv");
    expect(status).toBe(422);
    expect(said.error.faults).toMatchObject([
      { line: 5, field: "site", value: "mill" },
      { line: 6, field: "path", value: "P9" },
    ]);
    expect(inFolder("creamery.yaml")).toBe(CREAMERY);
  });
});
