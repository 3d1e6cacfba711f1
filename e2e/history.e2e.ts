import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { run } from "./run-cli.ts";

const table = "demo/histories/creamery.csv";
const site = ["--site", "demo/sites/creamery.yaml"];
const folder = mkdtempSync(join(tmpdir(), "earthbell-history-"));
afterAll(() => {
  rmSync(folder, { recursive: true });
});

describe("earthbell history", () => {
  it("tells the verdict, the record as a line, the threshold of the site and a caution before the steps", async () => {
    const { status, out } = await run(["history", table, ...site]);
    expect(status).toBe(0);
    expect(out).toContain("moisture-driven fault");
    expect(out).toMatch(/Threshold +30 kΩ/u);
    expect(out.indexOf("Caution")).toBeGreaterThan(out.indexOf("What to do"));
    expect(out.indexOf("Caution")).toBeLessThan(out.indexOf("string by string"));
  });

  it("gives the finding to programs, and draws it", async () => {
    const file = join(folder, "history.svg");
    const { status, out } = await run(["history", table, ...site, "--json", "--svg", file]);
    expect(status).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ format: "earthbell.history/1", verdict: "moisture-driven" });
    expect(readFileSync(file, "utf8")).toMatch(/^<svg [^>]*role="img"/u);
  });
});

describe("tables of earthbell history", () => {
  it("are read alike when what was said about their columns is saved", async () => {
    const [data, columns] = [join(folder, "export.csv"), join(folder, "columns.yaml")];
    const rows = Array.from(
      { length: 40 },
      (_, i) => `2026-0${1 + Math.floor(i / 20)}-${10 + (i % 19)} 06:30;2,5`,
    );
    writeFileSync(data, ["Zeit;Iso", ...rows].join("\n"));
    const said = [
      "--column",
      "instant=Zeit",
      "--column",
      "insulation=Iso",
      "--unit",
      "Mohm",
      "--decimal",
      "comma",
    ];
    const first = await run(["history", data, ...said, "--zone", "Europe/Berlin", "--save-columns", columns]);
    const second = await run(["history", data, "--columns", columns]);
    expect([first.status, second.status]).toEqual([0, 0]);
    expect(second.out).toBe(first.out);
  });

  it("tell all their faults at once, and end with 2", async () => {
    const data = join(folder, "wrong.csv");
    writeFileSync(data, "instant,insulation (kΩ)\n31.12.2026,5\n2026-01-02T06:00Z,soon\n");
    const { status, out, err } = await run(["history", data]);
    expect([status, out]).toEqual([2, ""]);
    expect(err).toContain("wrong.csv:2:1");
    expect(err).toContain("wrong.csv:3:19");
  });

  it("made from a seed are the same each time, and a fleet of them is compared", async () => {
    const data = join(folder, "fleet.csv");
    const make = ["history-simulate", "demo/sites/creamery.yaml", "demo/sites/bakery.yaml", "--days", "200"];
    const made = await run([...make, "--until", "2026-11-25", "--seed", "9"]);
    expect((await run([...make, "--until", "2026-11-25", "--seed", "9"])).out).toBe(made.out);
    writeFileSync(data, made.out);
    const { status, out } = await run([
      "history",
      data,
      "--fleet",
      "--json",
      "--about",
      "demo/histories/arrays.csv",
    ]);
    expect(status).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ format: "earthbell.fleet-history/1", arrays: 2 });
  });
});
