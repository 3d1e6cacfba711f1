import { spawn } from "node:child_process";
import { Readable } from "node:stream";
import { describe, expect, it } from "vitest";
import { command, run } from "./run-cli.ts";

function siteLine(index: number): string {
  return JSON.stringify({
    format: "earthbell.site/1",
    site: { id: `s${index}`, place: { country: "AU" }, lowestTemperature: "-2 °C" },
    modules: [{ id: "M1", pmax: "400 W", voc: "48 V" }],
    inverters: [{ id: "INV1", ratedPower: "10 kVA" }],
    arrays: [{ id: "A1", inverter: "INV1", module: "M1", strings: [{ id: "S1", modules: 14 }] }],
  });
}

/** Lines as a stream, so that the test too holds only one at a time. */
function stream(count: number, line: (index: number) => string): Readable {
  function* lines(): Generator<string> {
    for (let index = 0; index < count; index++) yield `${line(index)}\n`;
  }
  return Readable.from(lines());
}

describe("earthbell assess --batch", () => {
  it("answers ten thousand sites in order with flat memory", async () => {
    const small = await run(["assess", "-", "--batch"], { input: stream(100, siteLine) });
    const large = await run(["assess", "-", "--batch"], { input: stream(10_000, siteLine) });
    expect([large.status, large.err]).toEqual([0, ""]);
    const ids = large.out
      .trimEnd()
      .split("\n")
      .map((line) => (JSON.parse(line) as { site: string }).site);
    expect(ids).toEqual(Array.from({ length: 10_000 }, (_, index) => `s${index}`));
    expect(large.used.megabytes).toBeLessThan(300);
    // A hundred times the lines must not take a hundred times the memory; the collector needs some room.
    expect(large.used.megabytes).toBeLessThan(small.used.megabytes + 100);
  });

  it("prints an error in the place of a bad line, goes on and ends with 2", async () => {
    const lines = [siteLine(0), "{", siteLine(2), '{"format": "earthbell.site/1"}', "", siteLine(5)];
    const { status, out } = await run(["assess", "-", "--batch"], { input: `${lines.join("\n")}\n` });
    expect(status).toBe(2);
    const answers = out
      .trimEnd()
      .split("\n")
      .map((line) => JSON.parse(line) as Record<string, unknown>);
    expect(answers.map((answer) => answer["site"] ?? "error")).toEqual([
      "s0",
      "error",
      "s2",
      "error",
      "error",
      "s5",
    ]);
    expect(answers[1]).toHaveProperty(["error", "faults", 0, "line"], 2);
    expect(answers[3]).toHaveProperty(["error", "faults", 0, "line"], 4);
  });
});

describe("earthbell assess --batch survives", () => {
  it("a line beyond the limit, which it does not keep", async () => {
    const long = Readable.from([
      `${siteLine(0)}\n`,
      ..."x"
        .repeat(30)
        .split("")
        .map(() => "y".repeat(1024 * 1024)),
      `\n${siteLine(2)}\n`,
    ]);
    const { status, out, used } = await run(["assess", "-", "--batch"], { input: long });
    expect(status).toBe(2);
    const answers = out
      .trimEnd()
      .split("\n")
      .map((line) => JSON.parse(line) as Record<string, unknown>);
    expect(answers.map((answer) => answer["site"] ?? "error")).toEqual(["s0", "error", "s2"]);
    expect(answers[1]).toHaveProperty(["error", "faults", 0, "code"], "INPUT_FILE_TOO_LARGE");
    expect(used.megabytes).toBeLessThan(300);
  });

  it("a reader that leaves: it says nothing and stops", async () => {
    const child = spawn("node", [command, "assess", "-", "--batch"], { stdio: ["pipe", "pipe", "pipe"] });
    const errors: Buffer[] = [];
    child.stderr.on("data", (chunk: Buffer) => errors.push(chunk));
    child.stdin.on("error", () => undefined);
    stream(1_000_000, siteLine).pipe(child.stdin);
    child.stdout.once("data", () => child.stdout.destroy());
    const status = await new Promise((done) => child.on("close", done));
    expect([status, Buffer.concat(errors).toString()]).toEqual([0, ""]);
  });

  it("a file that is not there: it tells and goes on with the next", async () => {
    const { status, out, err } = await run(["assess", "gone.jsonl", "-", "--batch"], { input: siteLine(1) });
    expect(status).toBe(2);
    expect(err).toContain("FILE_PATH_NOT_FOUND");
    const answers = out
      .trimEnd()
      .split("\n")
      .map((line) => JSON.parse(line) as Record<string, unknown>);
    expect(answers.map((answer) => answer["site"] ?? "error")).toEqual(["error", "s1"]);
  });
});
