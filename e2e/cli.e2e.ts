import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { run } from "./run-cli.ts";

const site = "e2e/fixtures/windmill.yaml";
const commandNames = [
  "advise",
  "assess",
  "notice",
  "coverage",
  "loop",
  "prove",
  "locate",
  "explain",
  "schema",
  "rules",
  "demo",
  "help",
];

describe("help", () => {
  it.each([{ words: [] }, { words: ["--help"] }, { words: ["help"] }])(
    "$words lists every command",
    async ({ words }) => {
      const { status, out, err } = await run(words);
      expect([status, err]).toEqual([0, ""]);
      for (const name of commandNames) expect(out).toMatch(new RegExp(`^  ${name}\\b`, "mu"));
    },
  );

  it.each(commandNames)(
    "of %s has a line to try and the exit statuses, the same by both ways",
    async (name) => {
      const first = await run(["help", name]);
      const second = await run([name, "--help"]);
      expect(first.out).toBe(second.out);
      expect(first.out).toMatch(new RegExp(`^  earthbell ${name}`, "mu"));
      expect(first.out).toContain("Exit status");
      expect(first.status).toBe(0);
    },
  );

  it("gives examples that work as they stand", async () => {
    for (const name of commandNames) {
      const { out } = await run(["help", name]);
      const words = /^ {2}earthbell (.+)$/mu.exec(out)![1]!.trim().split(" ");
      const { status, err } = await run(words);
      expect([name, status, err]).toEqual([name, 0, ""]);
    }
  });

  it("tells the version of the package", async () => {
    const { version } = JSON.parse(readFileSync("package.json", "utf8")) as { version: string };
    expect((await run(["--version"])).out).toBe(`${version}\n`);
  });
});

describe("a wrong command line", () => {
  it.each([
    { words: ["asess", site], code: "COMMAND_NAME_UNKNOWN", hint: "earthbell assess" },
    { words: ["assess", site, "--jsno"], code: "COMMAND_OPTION_UNKNOWN", hint: "--json" },
    { words: ["assess"], code: "COMMAND_OPERAND_MISSING", hint: "a site file" },
    { words: ["demo", "now"], code: "COMMAND_OPERAND_UNEXPECTED", hint: "now" },
    { words: ["assess", "-", "-"], code: "COMMAND_INPUT_REPEATED", hint: "once" },
    { words: ["assess", site, "--on", "2026-02-30"], code: "COMMAND_VALUE_UNKNOWN", hint: "YYYY-MM-DD" },
    { words: ["assess", site, "--color=green"], code: "COMMAND_VALUE_UNKNOWN", hint: "never" },
    { words: ["explain", "DUTY_NO_PTH"], code: "COMMAND_VALUE_UNKNOWN", hint: "DUTY_NO_PATH" },
    { words: ["schema", "sight"], code: "COMMAND_VALUE_UNKNOWN", hint: "site" },
    { words: ["rules", "au-nz-5033-2041"], code: "COMMAND_VALUE_UNKNOWN", hint: "au-nz-5033-2014" },
  ])("$words ends with 2, $code and a hint", async ({ words, code, hint }) => {
    const { status, out, err } = await run(words);
    expect([status, out]).toEqual([2, ""]);
    expect(err).toContain(code);
    expect(err).toContain(hint);
    expect(err).not.toMatch(/^\s+at /mu);
  });
});

describe("explain", () => {
  it("explains every code it lists", async () => {
    const list = await run(["explain"], { environment: { COLUMNS: "200" } });
    const codes = [...list.out.matchAll(/^([A-Z]+(?:_[A-Z0-9]+)+) {2}/gmu)].map((match) => match[1]!);
    expect(codes.length).toBeGreaterThan(80);
    for (const code of [codes[0]!, codes.at(-1)!, "INPUT_FIELD_UNKNOWN", "located"]) {
      const { status, out } = await run(["explain", code]);
      expect([code, status]).toEqual([code, 0]);
      expect(out).toContain(code);
    }
  });
});

describe("rules", () => {
  it("shows every value with source and tag", async () => {
    const { out } = await run(["rules", "au-nz-5033-2014"]);
    expect(out).toContain("30 kΩ");
    expect(out).toMatch(/↳ AS\/NZS 5033:2014 cl\. 3\.4\.3; common practice/u);
  });

  it("lets a corrected pack of the user's own replace a built-in one", async () => {
    const { out } = await run(["assess", site, "--rules", "e2e/fixtures/own-rules.yaml", "--json"]);
    const [array] = (JSON.parse(out) as { arrays: { insulationThreshold: { ohms: number } }[] }).arrays;
    expect(array?.insulationThreshold.ohms).toBe(47_000);
    const shown = await run(["rules", "au-nz-5033-2014", "--rules", "e2e/fixtures/own-rules.yaml"]);
    expect(shown.out).toContain("47 kΩ");
  });

  it("names the faults of a rule pack, as JSON too", async () => {
    const { status, out, err } = await run(["assess", site, "--rules", site, "--json"]);
    expect(status).toBe(2);
    expect(err).toContain("INPUT_FORMAT_WRONG");
    expect(JSON.parse(out)).toHaveProperty(["error", "faults", 0, "code"], "INPUT_FORMAT_WRONG");
  });

  it("says which edition was in force", async () => {
    const { out } = await run(["rules", "--place", "AU-VIC", "--on", "2019-03-14"]);
    expect(out).toContain("au-nz-5033-2014");
    expect(out).not.toContain("au-nz-5033-2021");
  });
});

describe("an unexpected failure", () => {
  it("to write is told in one line with status 1", async () => {
    const { status, err } = await run(["assess", "e2e/fixtures/windmill.yaml"], {
      environment: {},
      outputFile: "/dev/full",
    });
    expect(status).toBe(1);
    expect(err).toMatch(
      /^earthbell: the output is not complete: the disk is full\. .*\(COMMAND_OUTPUT_FAILED\)\n$/u,
    );
  });
});
