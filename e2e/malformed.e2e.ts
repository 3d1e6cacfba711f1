import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Malformed, malformedSites, malformedVisits } from "./malformed.ts";
import { run } from "./run-cli.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "earthbell-malformed-"));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

interface Faults {
  readonly error: { readonly message: string; readonly faults: readonly Record<string, unknown>[] };
}

async function refuses(name: string, { text, code, line }: Malformed): Promise<void> {
  const file = join(folder, "given.yaml");
  writeFileSync(file, text);
  const { status, out, err, used } = await run([name, file, "--json"]);
  expect(status).toBe(2);
  expect(err).toContain(file);
  expect(err).not.toMatch(/^\s+at .*:\d+:\d+\)?$/mu);
  const { error } = JSON.parse(out) as Faults;
  expect(error.message).not.toBe("");
  const found = error.faults.filter((fault) => String(fault["code"]).startsWith(code));
  expect(found.length, JSON.stringify(error).slice(0, 500)).toBeGreaterThan(0);
  expect(found[0]).toMatchObject({ file });
  expect(Object.keys(found[0]!).sort()).toEqual(
    ["allowed", "code", "column", "field", "file", "line", "message", "value"].sort(),
  );
  if (line !== undefined) {
    expect(found.map((fault) => fault["line"])).toContain(line);
    expect(err).toContain(`given.yaml:${line}:`);
  }
  expect(used.seconds).toBeLessThan(2);
  expect(used.megabytes).toBeLessThan(300);
}

describe("earthbell assess refuses", () => {
  it.each(malformedSites)("$name with status 2, its place and $code", async (malformed) => {
    await refuses("assess", malformed);
  });
});

describe("earthbell locate refuses", () => {
  it.each(malformedVisits)("$name with status 2, its place and $code", async (malformed) => {
    await refuses("locate", malformed);
  });
});

describe("faults", () => {
  it("are all told at once", async () => {
    const file = join(folder, "three.yaml");
    writeFileSync(
      file,
      "format: earthbell.visit/1\nstrings: [{id: S1, modules: -2}]\nreadings: []\ncolour: red\n",
    );
    const { status, err } = await run(["locate", file]);
    expect(status).toBe(2);
    for (const place of ["three.yaml:2:", "three.yaml:4:"]) expect(err).toContain(place);
    expect(err).toMatch(/\d faults in /u);
  });

  it("do not keep the next file from being read", async () => {
    const good = "e2e/fixtures/windmill-visit.yaml";
    const { status, out } = await run(["locate", join(folder, "gone.yaml"), good, "--json"]);
    expect(status).toBe(2);
    const [first = "", second = ""] = out.trimEnd().split("\n");
    expect((JSON.parse(first) as Faults).error.faults[0]).toMatchObject({ code: "FILE_PATH_NOT_FOUND" });
    expect(JSON.parse(second)).toMatchObject({ verdict: "located" });
  });

  it("name a folder as a folder", async () => {
    const { status, err } = await run(["assess", folder]);
    expect(status).toBe(2);
    expect(err).toContain("FILE_PATH_IS_FOLDER");
  });

  it("never let a file write to the terminal", async () => {
    const file = join(folder, "escape.yaml");
    writeFileSync(file, 'format: earthbell.site/1\nsite: {id: "a\\u001b[2Jb"}\n"\\u001b]0;x\\u0007": 1\n');
    const { status, out, err } = await run(["assess", file]);
    expect(status).toBe(2);
    expect(out + err).not.toContain("\u001b");
  });
});
