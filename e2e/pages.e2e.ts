import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { displayWidth } from "../apps/cli/src/terminal/width.ts";
import { run } from "./run-cli.ts";

const site = "e2e/fixtures/windmill.yaml";
const visit = "e2e/fixtures/windmill-visit.yaml";
const answers = "demo/advice/shearing-shed.yaml";
const ofPaths = [
  ["advise", answers],
  ["notice", site],
  ["coverage", site],
  ["loop", site],
  ["prove", site],
];

describe("pages", () => {
  it("of locate give the finding, then the cautions of the next step, then its preconditions, then the step", async () => {
    const { status, out } = await run(["locate", visit]);
    expect(status).toBe(0);
    const order = ["Finding", "Read this before", "Only when each of these is recorded", "Open "];
    const at = order.map((text) => out.indexOf(text));
    expect(at.every((position) => position >= 0)).toBe(true);
    expect([...at].sort((a, b) => a - b)).toEqual(at);
    expect(out.indexOf("zero current")).toBeLessThan(out.indexOf("Do this next"));
  });

  it("of prove and advise put the cautions before what is done with the test resistor", async () => {
    for (const words of [
      ["prove", "demo/sites/creamery.yaml", "--path", "P1", "--on", "2026-11-25"],
      ["advise", answers],
    ]) {
      const { status, out } = await run(words);
      expect(status).toBe(0);
      expect(out.indexOf("shock level")).toBeGreaterThan(0);
      expect(out.indexOf("shock level")).toBeLessThan(out.search(/(?:wire|connects) the\s+test\s+resistor/u));
    }
  });

  it("of assess put the cautions of the test resistor before the resistor", async () => {
    const { out } = await run(["assess", site, "--on", "2026-06-01"]);
    expect(out.indexOf("shock level")).toBeGreaterThan(0);
    expect(out.indexOf("shock level")).toBeLessThan(out.indexOf("rated 50 W, carries"));
  });

  it("ask for readings in lines that can be pasted into the visit file", async () => {
    const { out } = await run(["locate", visit]);
    const asked = /each with its value:\n((?: {4}.*\n)+)/u.exec(out)![1]!;
    expect(asked.match(/- \{/gu)!.length).toBeGreaterThan(1);
    const pasted = readFileSync(visit, "utf8") + asked.replaceAll("…", "1.5 V").replace(/^ {2}/gmu, "");
    const { status, err } = await run(["locate", "-"], { input: pasted });
    expect([status, err]).toEqual([0, ""]);
  });

  it("read standard input for -", async () => {
    const named = await run(["locate", visit]);
    const piped = await run(["locate", "-"], { input: readFileSync(visit, "utf8") });
    expect(piped.out.replace("standard input", visit)).toBe(named.out);
  });
});

describe("the look of pages", () => {
  it.each([40, 60, 80, 100, 132, 200])("fits %i columns", async (columns) => {
    for (const words of [
      ["assess", site],
      ["locate", visit, "--plan"],
      ...ofPaths,
      ["explain"],
      ["rules"],
      ["help", "assess"],
    ]) {
      const { out } = await run(words, { environment: { COLUMNS: String(columns) } });
      const widest = Math.max(...out.split("\n").map(displayWidth));
      expect([words[0], widest <= columns]).toEqual([words[0], true]);
    }
  });

  it("is plain when piped, coloured on request, and plain again with NO_COLOR", async () => {
    const escape = "\u001b[";
    expect((await run(["assess", site])).out).not.toContain(escape);
    expect((await run(["assess", site, "--color=always"])).out).toContain(escape);
    const refused = await run(["assess", site, "--color=auto"], { environment: { NO_COLOR: "1" } });
    expect(refused.out).not.toContain(escape);
  });

  it.each([
    { words: ["--ascii"], environment: {} },
    { words: [], environment: { LANG: "de_DE.ISO-8859-1" } },
  ])("is ASCII with $words and $environment", async ({ words, environment }) => {
    for (const file of [["assess", site], ["locate", visit], ...ofPaths]) {
      const { out } = await run([...file, ...words], { environment });
      expect(out).toMatch(/^[\n -~]*$/u);
    }
  });

  it("of the demo shows the register, a strip and what to try next", async () => {
    const { status, out, err } = await run(["demo"]);
    expect([status, err]).toEqual([0, ""]);
    expect(out).toContain("pump-house");
    expect(out).toMatch(/− ─.*├/u);
    expect(out).toContain("Try next");
  });
});
