import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { run } from "./run-cli.ts";

const site = "e2e/fixtures/windmill.yaml";
const overrides = ["--overrides", "e2e/fixtures/rule-overrides.yaml"];
const WHY = "overridden by Ann Lee on 2026-03-02: the island asks for more (from letter of 2 March)";

interface Overridden {
  readonly overridden?: readonly {
    readonly field: string;
    readonly value: number;
    readonly state: string;
    readonly source: string;
  }[];
}

async function json<Answer>(words: readonly string[]): Promise<Answer & Overridden> {
  const { status, out, err } = await run([...words, "--json"]);
  expect([status, err]).toEqual([0, ""]);
  return JSON.parse(out) as Answer & Overridden;
}

/** A page on one line, without the breaks of its columns. */
const flat = (page: string): string => page.replace(/\s+/gu, " ");

describe("commands with the overrides of a desk", () => {
  it("assess by them, and name each that is used with its reason and source, in no other country's place", async () => {
    interface Assessed {
      readonly arrays: readonly {
        readonly insulationThreshold: { readonly ohms: number; readonly source: string };
      }[];
      readonly paths: readonly {
        readonly findings: readonly { readonly code: string; readonly source?: string }[];
      }[];
    }
    const { arrays, paths, overridden } = await json<Assessed>(["assess", site, ...overrides]);
    expect(arrays[0]?.insulationThreshold.ohms).toBe(50_000);
    expect(arrays[0]?.insulationThreshold.source).toContain(WHY);
    const few = paths[0]?.findings.find(({ code }) => code === "DUTY_TOO_FEW_ADDRESSES");
    expect(few?.source).toContain("two keepers are often at sea");
    expect(overridden?.map(({ field, value }) => [field, value])).toEqual([
      ["alarm.leastAddresses", 5],
      ["insulationThreshold.rows[0].ohms", 50_000],
    ]);
    expect((await json(["assess", site])).overridden).toBeUndefined();
  });

  it.each([
    ["assess", site],
    ["prove", site],
    ["coverage", site],
  ])("%s marks them on the page", async (command, file) => {
    const { status, out } = await run([command, file, ...overrides], { environment: { COLUMNS: "70" } });
    expect(status).toBe(0);
    expect(out).toContain("Overridden rule values that this rests on");
    expect(flat(out)).toContain("the island asks for more");
  });

  it("advise by them", async () => {
    const yes = await json<object>(["advise", "demo/advice/shearing-shed.yaml", ...overrides]);
    // The shed is installed in 2026: another edition binds, of which nothing is overridden.
    expect(yes.overridden).toBeUndefined();
    const shown = await run(["rules", "au-nz-5033-2014", ...overrides], { environment: { COLUMNS: "70" } });
    expect(flat(shown.out)).toContain(WHY);
    expect((await run(["rules", ...overrides])).out).toContain("2 values are overridden");
  });

  it("make papers by them: another revision than without, and the same again", async () => {
    const folder = mkdtempSync(join(tmpdir(), "earthbell-overrides-"));
    const make = ["paper", "design-record", site, "--format", "html", "--on", "2026-11-25", "--out", folder];
    await run(make);
    await run([...make, ...overrides]);
    await run([...make, ...overrides]);
    const pages = readdirSync(folder).filter((name) => name.endsWith(".html"));
    expect(pages.sort()).toEqual(["design-record-windmill-1.html", "design-record-windmill-2.html"]);
    const [first, second] = pages.map((name) => readFileSync(join(folder, name), "utf8"));
    expect(first).not.toContain("overridden by");
    expect(second).toContain(WHY);
    rmSync(folder, { recursive: true });
  });

  it("name every fault of the file at once with line, field, value, what is allowed and code, and do nothing", async () => {
    const input = readFileSync("e2e/fixtures/rule-overrides.yaml", "utf8")
      .replace("value: 50000", "value: 10000")
      .replace("pack: nz-regulations-2025", "pack: nz-regulations-2052")
      .replace("because: two keepers are often at sea", "because: x");
    const { status, out, err } = await run(["assess", site, "--overrides", "-", "--json"], { input });
    expect(status).toBe(2);
    const { error } = JSON.parse(out) as {
      error: { faults: readonly Readonly<Record<string, string | number | null>>[] };
    };
    expect(error.faults.map(({ line, field, code }) => [line, field, code])).toEqual([
      [5, "overrides[0].confirmed", "RULES_OVERRIDE_WEAKER"],
      [6, "overrides[1].because", "RULES_OVERRIDE_REASON"],
      [7, "overrides[2].pack", "RULES_OVERRIDE_UNKNOWN"],
    ]);
    for (const { file, allowed } of error.faults) {
      expect(file).toBe("standard input");
      expect(allowed).not.toBe("");
    }
    for (const { code } of error.faults) expect(err).toContain(String(code));
  });

  it("go by the pack's own value where it is another one than when it was overridden, and say so", async () => {
    const input = readFileSync("e2e/fixtures/rule-overrides.yaml", "utf8").replace(
      "value: 50000, because",
      "value: 50000, replaces: 20000, because",
    );
    const { status, out, err } = await run(["assess", site, "--overrides", "-", "--json"], { input });
    expect(status).toBe(0);
    const { arrays, overridden } = JSON.parse(out) as Overridden & {
      readonly arrays: readonly { readonly insulationThreshold: { readonly ohms: number } }[];
    };
    // The table of the edition of 2014 asks 30 kΩ of an array of this size: the override asked for 50.
    expect(arrays[0]?.insulationThreshold.ohms).toBe(30_000);
    expect(overridden?.map(({ field, state }) => [field, state])).toEqual([
      ["alarm.leastAddresses", "in-force"],
      ["insulationThreshold.rows[0].ohms", "set-aside"],
    ]);
    expect(flat(err)).toContain("Set aside: the override of Ann Lee on 2026-03-02");
    expect(err).toContain("RULES_OVERRIDE_STALE");
    const page = await run(["assess", site, "--overrides", "-"], { input, environment: { COLUMNS: "70" } });
    expect(flat(page.out)).toContain("since the pack itself says 30000 Ω by now");
    expect((await run(["explain", "RULES_OVERRIDE_STALE"])).out).toContain("--rules");
  });
});
