import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { displayWidth } from "../apps/cli/src/terminal/width.ts";
import { run } from "./run-cli.ts";

const shed = "demo/advice/shearing-shed.yaml";
const folder = mkdtempSync(join(tmpdir(), "earthbell-advise-"));
afterAll(() => {
  rmSync(folder, { recursive: true });
});

/** The answers of the demo's file as somebody would type them. */
const typed = [
  "AU-VIC Australia/Melbourne -40 134",
  "2026-12-09",
  "2 x 12",
  "410 W, 37.4 V, -0.27 %/K, 13.9 A, 1.95 m2",
  "-4",
  "10 kVA none",
  "floating",
  "building",
  "grazier Mon-Sun 05:30-21:00, 3 a day; desk Mon-Fri 07:00-17:00, 20 a day",
  "Mon-Fri 07:00-17:00",
  "owners-router",
  "2, 3 m",
  "?",
];

interface Advised {
  readonly format: string;
  readonly duty: { readonly alarm: string; readonly missing: readonly string[] };
  readonly plans: readonly {
    readonly signals: readonly string[];
    readonly notice: { readonly medianHours: number };
  }[];
  readonly next: string | null;
  readonly array: { readonly maxVoltage: { readonly volts: number } } | null;
}
const advised = (out: string): Advised => JSON.parse(out) as Advised;

describe("advise from a file", () => {
  it("fits 60 and 120 columns, is ASCII on request, and puts the cautions before the test", async () => {
    for (const columns of [60, 120]) {
      const { status, out, err } = await run(["advise", shed], { environment: { COLUMNS: String(columns) } });
      expect([status, err]).toEqual([0, ""]);
      expect(Math.max(...out.split("\n").map(displayWidth))).toBeLessThanOrEqual(columns);
      const order = [
        "alarm required",
        "1 message",
        "This work can kill",
        "Test",
        "Tell the owner",
        "Ask next",
      ];
      const at = order.map((text) => out.indexOf(text));
      expect(at.every((position) => position >= 0)).toBe(true);
      expect([...at].sort((a, b) => a - b)).toEqual(at);
    }
    expect((await run(["advise", shed, "--ascii"])).out).toMatch(/^[\n -~]*$/u);
  });

  it("gives its format as JSON, and names every fault of a file at once", async () => {
    const { out } = await run(["advise", shed, "--json"]);
    expect(advised(out)).toMatchObject({ format: "earthbell.advised/1", next: "relay" });
    const broken = readFileSync(shed, "utf8").replace("floating", "afloat").replace("10 kVA", "10");
    const wrong = await run(["advise", "-"], { input: broken });
    expect(wrong.status).toBe(2);
    for (const told of ["INPUT_CHOICE_UNKNOWN", "QUANTITY_UNIT_MISSING", "2 faults"])
      expect(wrong.err).toContain(told);
  });
});

describe("advise --save", () => {
  it("writes a site file that assess reads without a fault, with the same duty and voltage", async () => {
    const file = join(folder, "shed.yaml");
    const { status, out } = await run(["advise", shed, "--save", file]);
    expect(status).toBe(0);
    expect(out).toContain(`earthbell assess ${file}`);
    const advice = advised((await run(["advise", shed, "--json"])).out);
    const assessed = await run(["assess", file, "--json", "--on", "2026-12-10"]);
    expect([assessed.status, assessed.err]).toEqual([0, ""]);
    const { arrays, paths } = JSON.parse(assessed.out) as {
      arrays: { duty: { alarm: string }; maxVoltage: { volts: number } }[];
      paths: { signal: string; verdict: string }[];
    };
    expect(arrays[0]!.duty.alarm).toBe(advice.duty.alarm);
    expect(arrays[0]!.maxVoltage.volts).toBe(advice.array!.maxVoltage.volts);
    expect(paths.map(({ signal }) => signal)).toEqual(advice.plans[0]!.signals);
    // What is planned is not built: nothing may be called proved.
    expect(paths.map(({ verdict }) => verdict)).not.toContain("meets");
  });

  it("refuses to save a site of which too little is known, and says what to answer", async () => {
    const { status, err } = await run(["advise", "-", "--save", join(folder, "none.yaml")], {
      input: "format: earthbell.advice/1\nearthing: floating\n",
    });
    expect(status).toBe(2);
    expect(err).toMatch(/place, strings, module, inverter\. \(COMMAND_SITE_INCOMPLETE\)/u);
  });
});

describe("advise by questions", () => {
  it("comes to the advice of the file with the same answers", async () => {
    const asked = await run(["advise", "--json"], { input: `${typed.join("\n")}\n\n` });
    expect(asked.status).toBe(0);
    const [byWord, byFile] = [advised(asked.out), advised((await run(["advise", shed, "--json"])).out)];
    expect(byWord.plans).toEqual(byFile.plans);
    expect([byWord.duty, byWord.next]).toEqual([byFile.duty, byFile.next]);
  });

  it("asks on standard error, so that the page alone is on standard output", async () => {
    const { out, err } = await run(["advise"], { input: `${typed.join("\n")}\n` });
    expect(err).toContain("13 of 13.");
    expect(out).not.toContain("13 of 13.");
    expect(out).toContain("Is an alarm due?");
  });

  it("goes back to a question by its number, and shows the answer it has", async () => {
    const { out, err } = await run(["advise", "--json"], { input: [...typed, "#3", "2", ""].join("\n") });
    expect(err).toContain("Now: 2 x 12");
    // One string of two modules: 2 × 37.4 V × 1.0783 is 80.7 V, below 120 V.
    expect(advised(out)).toMatchObject({ duty: { alarm: "not-required" } });
  });

  it("says what is wrong with an answer and asks again", async () => {
    const input = ["AU-VIC", "yesterday", "2019-03-14", "done"].join("\n");
    const { status, out, err } = await run(["advise", "--json"], { input });
    expect(status).toBe(0);
    expect(err).toContain("INPUT_DATE_INVALID");
    expect(advised(out).duty.missing).toEqual(["strings", "module", "inverter"]);
  });

  it("takes an empty input for knowing nothing, and names the question to begin with", async () => {
    const { status, out } = await run(["advise", "--json"], { input: "" });
    expect(status).toBe(0);
    expect(advised(out)).toMatchObject({ duty: { alarm: "undecided" }, plans: [], next: "place" });
  });

  it("makes an answer unknown again with a question mark, and refuses a number that no question has", async () => {
    const input = ["AU-VIC", "#99", "#1", "?", "done"].join("\n");
    const { out, err } = await run(["advise", "--json"], { input });
    expect(err).toContain("a number from 1 to 13");
    expect(advised(out).next).toBe("place");
  });
});
