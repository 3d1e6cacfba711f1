import { mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeEach, describe, expect, it } from "vitest";
import { type SiteFiles, siteFilesIn } from "./site-files.ts";

let folder: string;
let files: SiteFiles;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "earthbell-sites-"));
  files = siteFilesIn(folder);
});

describe("site files of a folder", () => {
  it("a site keeps the file that it came from, whatever that is called", async () => {
    const own = join(folder, "old name.yml");
    writeFileSync(own, "before");
    files.note("mill", own);
    await (await files.prepare("mill", "after")).commit();
    expect(readFileSync(own, "utf8")).toBe("after");
    expect(readdirSync(folder)).toEqual(["old name.yml"]);
  });

  it("what is dropped leaves everything as it was", async () => {
    await (await files.prepare("mill", "text")).drop();
    expect(readdirSync(folder)).toEqual([]);
  });

  it("a new site never takes the file of another, nor a place outside the folder", async () => {
    writeFileSync(join(folder, "mill.yaml"), "somebody else's, with faults");
    for (const site of ["mill", "../../mill", "a/b", "..."]) await (await files.prepare(site, site)).commit();
    expect(readFileSync(join(folder, "mill.yaml"), "utf8")).toBe("somebody else's, with faults");
    const names = readdirSync(folder);
    expect(names).toHaveLength(5);
    expect(names.every((name) => /^[\w-][\w.-]*\.yaml$/u.test(name) || /^-[\w.-]+\.yaml$/u.test(name))).toBe(
      true,
    );
  });

  it("a site that is removed is not put in again at the next start", async () => {
    await (await files.prepare("mill", "text")).commit();
    await files.layAside("mill");
    expect(readdirSync(folder)).toEqual(["mill.yaml.removed"]);
  });
});
