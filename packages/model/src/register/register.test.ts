import { readFileSync } from "node:fs";
import type { Site } from "@earthbell/engine";
import { describe, expect, test } from "vitest";
import { readSite } from "../site/read-site.ts";
import { editSiteText, type SiteChange } from "./edit-site-text.ts";
import { readRegisterTable } from "./read-register-table.ts";

const demo = (name: string): string =>
  readFileSync(new URL(`../../../../demo/sites/${name}.yaml`, import.meta.url), "utf8");

function read(text: string): Site {
  const result = readSite(text, "site");
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  return result.record;
}

const CHANGES: readonly SiteChange[] = [
  { kind: "name", name: 'The "new" #1 dairy: north' },
  { kind: "owner-told", on: "2026-11-20" },
  { kind: "proof", path: "P1", proof: "drill", on: "2026-11-19", by: "A. Lee", acknowledgedAfterMin: 12 },
];

describe("editSiteText", () => {
  test.each(["creamery", "ferry-shed", "boathouse", "old-mill", "clinic"])(
    "changes name, day and proofs of %s and leaves every other line as it was written",
    (name) => {
      const text = demo(name);
      const before = read(text);
      const path = before.paths[0]?.id;
      const changes = path === undefined ? CHANGES.slice(0, 2) : CHANGES.map((one) => ({ ...one, path }));
      const { text: edited, rewritten } = editSiteText(text, before, changes);
      expect(rewritten).toBe(false);
      const after = read(edited);
      expect(after.name).toBe('The "new" #1 dairy: north');
      expect(after.ownerInformed?.on).toBe("2026-11-20");
      if (path !== undefined)
        expect(after.proofs.at(-1)).toMatchObject({
          path,
          kind: "drill",
          on: "2026-11-19",
          acknowledgedAfter: 12,
        });
      const lines = new Set(edited.split("\n"));
      const gone = text.split("\n").filter((line) => !lines.has(line));
      expect(gone.every((line) => /^ +name:|^ownerInformed:/u.test(line))).toBe(true);
    },
  );

  test("writes a file anew where its form leaves no place for the change, and says so", () => {
    const site = read(demo("creamery"));
    const json = JSON.stringify({ ...JSON.parse(JSON.stringify(site)) }, null, 0);
    const { text, rewritten } = editSiteText(json, site, CHANGES);
    expect(rewritten).toBe(true);
    expect(read(text)).toMatchObject({ name: 'The "new" #1 dairy: north', id: "creamery" });
  });
});

describe("readRegisterTable", () => {
  test("reads what is to change, past what the register works out, and empty cells change nothing", () => {
    const table =
      "\uFEFFsite,name,arrays,owner_told,path,proof,on,by,acknowledged_after\r\n" +
      'mill,"Mill, old",3,2026-11-20,,,,,\r\n' +
      "kirk,,1,,P1,drill,2026-11-19,A. Lee,12\r\n" +
      "pump,,1,,P2,test-resistor,2026-11-18,,2 h\r\n" +
      "inn,,1,,,,,,\r\n";
    expect(readRegisterTable(table, "t.csv")).toEqual({
      ok: true,
      warnings: [],
      record: [
        {
          line: 2,
          site: "mill",
          changes: [
            { kind: "name", name: "Mill, old" },
            { kind: "owner-told", on: "2026-11-20" },
          ],
        },
        {
          line: 3,
          site: "kirk",
          changes: [
            {
              ...{ kind: "proof", path: "P1", proof: "drill", on: "2026-11-19" },
              ...{ by: "A. Lee", acknowledgedAfterMin: 12 },
            },
          ],
        },
        {
          line: 4,
          site: "pump",
          changes: [
            {
              kind: "proof",
              path: "P2",
              proof: "test-resistor",
              on: "2026-11-18",
              acknowledgedAfterMin: 120,
            },
          ],
        },
      ],
    });
  });

  test.each([
    ["a day of no calendar", "site,owner_told\nmill,2026-02-30", 2, "owner_told"],
    ["a proof without its path", "site,proof,on\nmill,drill,2026-02-03", 2, "path"],
    ["a kind of proof that is none", "site,path,proof,on\nmill,P1,bell,2026-02-03", 2, "proof"],
    [
      "a time that is none",
      "site,path,proof,on,acknowledged_after\nmill,P1,drill,2026-02-03,soon",
      2,
      "acknowledged_after",
    ],
    ["a column that nobody knows", "site,colour\nmill,red", 1, "colour"],
    ["no column of sites", "name\nMill", 1, "site"],
  ])("points at %s", (_, table, line, field) => {
    const result = readRegisterTable(table, "t.csv");
    const faults = result.ok ? [] : result.faults;
    expect(faults).toContainEqual(expect.objectContaining({ line, field, file: "t.csv" }));
  });

  test("tells every cell that is wrong at once", () => {
    const result = readRegisterTable("site,owner_told\nmill,never\n,2026-01-01\nkirk,soon", "t.csv");
    expect(result.ok ? [] : result.faults.map(({ line }) => line)).toEqual([2, 3, 4]);
  });
});
