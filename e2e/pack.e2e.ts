import { execFileSync } from "node:child_process";
import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

let folder = "";
let tarball = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "earthbell-pack-"));
  execFileSync("npm", ["pack", "--silent", "--pack-destination", folder], { cwd: resolve(".") });
  tarball = readdirSync(folder).find((name) => name.endsWith(".tgz"))!;
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

function npx(...words: readonly string[]): string {
  const line = ["--yes", "--package", `./${tarball}`, "earthbell", ...words];
  return execFileSync("npx", line, { cwd: folder, encoding: "utf8" });
}

describe("the packed program", () => {
  it("runs from an empty folder and tells its version", () => {
    expect(npx("--version").trim()).toBe("0.1.0");
  });

  it("brings its demonstration along", () => {
    expect(npx("demo")).toContain("Try next");
  });

  it("holds what is needed to run and nothing of the workshop", () => {
    const names = execFileSync("tar", ["tzf", join(folder, tarball)], { encoding: "utf8" })
      .trim()
      .split("\n");
    expect(names).toContain("package/dist/earthbell.js");
    expect(
      names.filter((name) => /^package\/(packages|apps|checks|e2e|tools|node_modules)\//u.test(name)),
    ).toEqual([]);
  });
});
