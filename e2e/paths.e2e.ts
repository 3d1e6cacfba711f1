import { readFileSync, rmSync, mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { displayWidth } from "../apps/cli/src/terminal/width.ts";
import { run } from "./run-cli.ts";

const ferry = "demo/sites/ferry-shed.yaml";
const creamery = "demo/sites/creamery.yaml";
const commands = [
  { words: ["notice", ferry, "--on", "2026-11-25"], format: "earthbell.notice/1", shows: "Not yet noticed" },
  { words: ["coverage", ferry], format: "earthbell.coverage/1", shows: "Born in the dark" },
  { words: ["loop", ferry], format: "earthbell.loop/1", shows: "Parts, by rating" },
  {
    words: ["prove", creamery, "--path", "P1", "--on", "2026-11-25"],
    format: "earthbell.proof-plan/1",
    shows: "test resistor",
  },
];

describe.each(commands)("$words.0", ({ words, format, shows }) => {
  it("fits 60 and 120 columns, and is ASCII on request", async () => {
    for (const columns of [60, 120]) {
      const { status, out, err } = await run(words, { environment: { COLUMNS: String(columns) } });
      expect([status, err]).toEqual([0, ""]);
      expect(out).toContain(shows);
      expect(Math.max(...out.split("\n").map(displayWidth))).toBeLessThanOrEqual(columns);
    }
    expect((await run([...words, "--ascii"])).out).toMatch(/^[\n -~]*$/u);
  });

  it("gives its format as JSON, and ends with 2 for a file that is no site", async () => {
    const { status, out } = await run([...words, "--json"]);
    expect([status, (JSON.parse(out) as { format: string }).format]).toEqual([0, format]);
    const wrong = await run([words[0]!, "demo/visits/creamery-2026-08-14.yaml"]);
    expect(wrong.status).toBe(2);
    expect(wrong.err).toContain("INPUT_FORMAT_WRONG");
  });
});

describe("a part that the site does not have", () => {
  it.each([["loop"], ["prove"]])("is refused by %s with those it has", async (name) => {
    const { status, err } = await run([name, ferry, "--path", "P9"]);
    expect(status).toBe(2);
    expect(err).toMatch(/COMMAND_PART_UNKNOWN/u);
    expect(err).toMatch(/allowed +P1/u);
  });
});

describe("loop --svg", () => {
  it("writes the schematic, and says so where it cannot", async () => {
    const folder = mkdtempSync(join(tmpdir(), "earthbell-"));
    const file = join(folder, "loop.svg");
    expect((await run(["loop", ferry, "--svg", file])).status).toBe(0);
    expect(readFileSync(file, "utf8")).toMatch(/^<svg .*<\/svg>\s*$/su);
    rmSync(folder, { recursive: true });
    const refused = await run(["loop", ferry, "--svg", file]);
    expect([refused.status, /FILE_PATH_NOT_WRITABLE/u.test(refused.err)]).toEqual([2, true]);
  });
});

describe.each([
  { words: ["notice", creamery, "--on", "2026-11-25"], says: "that nobody has noticed yet" },
  { words: ["coverage", ferry], says: "What the detectors of array A1 see" },
])("$words.0 --svg", ({ words, says }) => {
  it("writes a drawing with its title and its table in words, beside the same page", async () => {
    const folder = mkdtempSync(join(tmpdir(), "earthbell-"));
    const file = join(folder, "drawing.svg");
    const { status, out } = await run([...words, "--svg", file]);
    const svg = readFileSync(file, "utf8");
    rmSync(folder, { recursive: true });
    expect([status, out]).toEqual([0, (await run(words)).out]);
    expect(svg).toMatch(/^<svg [^>]*role="img"[\s\S]*<desc>[^<]+<\/desc>[\s\S]*<\/svg>\s*$/u);
    expect(svg).toContain(says);
  });
});

describe("a drawing of more than one thing", () => {
  it("is refused with the files or arrays to choose from", async () => {
    const { status, err } = await run(["notice", creamery, ferry, "--svg", "/dev/null"]);
    expect([status, /COMMAND_DRAWING_NOT_ONE/u.test(err)]).toEqual([2, true]);
    expect(err).toContain("the file of creamery");
  });
});
