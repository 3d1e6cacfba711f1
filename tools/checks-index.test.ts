import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";

const TOOL = new URL("checks-index.mjs", import.meta.url).pathname;
const COMPLETE = [
  "# Ohm's law",
  "",
  "- source: a textbook, table 1 [published]",
  "- source, table 2: another [memory]",
  "- **How obtained**: copied as printed,",
  "  by hand",
  "- independence: published worked example",
  "- tolerance: last digit",
  "- not covered: heat",
  "",
].join("\n");

let root: string;
beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), "earthbell-index-"));
});
afterEach(() => {
  rmSync(root, { recursive: true, force: true });
});

function folder(id: string, source: string): void {
  const path = join(root, "checks", id);
  mkdirSync(path, { recursive: true });
  writeFileSync(join(path, "SOURCE.md"), source);
  writeFileSync(join(path, "ohm.check.ts"), "");
  writeFileSync(join(path, "cases.json"), JSON.stringify({ rows: [{ v: 1 }, { v: 2 }], pairs: [[1, 2]] }));
}

function index(...options: string[]): { status: number | null; output: string } {
  const run = spawnSync(process.execPath, [TOOL, ...options], { cwd: root, encoding: "utf8" });
  return { status: run.status, output: run.stdout + run.stderr };
}

describe("the index of checks", () => {
  it("lists a complete folder with its sources, tags and counted rows, and is then fresh", () => {
    folder("ohm", COMPLETE);
    expect(index().status).toBe(0);
    const page = readFileSync(join(root, "checks/INDEX.md"), "utf8");
    expect(page).toContain(
      "| [ohm](ohm/SOURCE.md) | Ohm's law | a textbook, table 1 [published] another [memory] | published, memory | published worked example | last digit | 3 |",
    );
    expect(page).toContain("- **ohm**: heat");
    expect(index("--check").status).toBe(0);
  });

  it("--check fails when there is no index, and when a source has changed since", () => {
    folder("ohm", COMPLETE);
    expect(index("--check")).toMatchObject({
      status: 1,
      output: expect.stringContaining("is stale") as string,
    });
    index();
    folder("ohm", COMPLETE.replace("last digit", "half of it"));
    expect(index("--check")).toMatchObject({
      status: 1,
      output: expect.stringContaining("is stale") as string,
    });
  });

  it("names every folder at fault at once and writes nothing", () => {
    folder("ohm", COMPLETE.replace(/- tolerance.*\n/, "").replace(/ \[published\]| \[memory\]/g, ""));
    folder("volt", "no heading");
    mkdirSync(join(root, "checks/watt"));
    const { status, output } = index();
    expect(status).toBe(1);
    expect(output).toContain("checks/ohm/SOURCE.md: lacks tolerance, tag");
    expect(output).toContain("checks/volt/SOURCE.md: no first heading");
    expect(output).toContain(
      "checks/volt/SOURCE.md: lacks source, obtained, independence, tolerance, not covered, tag",
    );
    expect(output).toContain("checks/watt/SOURCE.md: missing");
    expect(() => readFileSync(join(root, "checks/INDEX.md"))).toThrow();
  });

  it("a folder in which nothing runs is an error", () => {
    folder("ohm", COMPLETE);
    rmSync(join(root, "checks/ohm/ohm.check.ts"));
    expect(index()).toMatchObject({ status: 1, output: expect.stringContaining("nothing runs") as string });
  });

  it("what was worked out by hand needs no word on how it was obtained", () => {
    folder(
      "ohm",
      COMPLETE.replace(/- \*\*How obtained.*\n.*\n/, "").replace(
        "published worked example",
        "hand derivation",
      ),
    );
    expect(index().status).toBe(0);
  });
});
