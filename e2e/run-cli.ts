import { spawn } from "node:child_process";
import { closeSync, openSync } from "node:fs";
import { resolve } from "node:path";
import type { Readable, Writable } from "node:stream";

/** The command as it is shipped. */
export const command = resolve("dist/earthbell.js");

/** Writes what the process used to file descriptor 3 when it ends. */
const usageReport = [
  "import { writeSync } from 'node:fs';",
  "process.on('exit', () => {",
  "  const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();",
  "  writeSync(3, JSON.stringify({ megabytes: maxRSS / 1024, seconds: (userCPUTime + systemCPUTime) / 1e6 }));",
  "});",
].join("\n");

export interface Run {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
  /** Most memory it held, and processor time it used: time on the clock depends on what else the machine does. */
  readonly used: { readonly megabytes: number; readonly seconds: number };
}

export interface RunOptions {
  readonly input?: string | Readable;
  readonly environment?: Readonly<Record<string, string>>;
  readonly folder?: string;
  /** Where standard output goes instead of into `out`. */
  readonly outputFile?: string;
}

/** Runs `earthbell` with these words, as a process of its own, and waits for its end. */
export async function run(words: readonly string[], options: RunOptions = {}): Promise<Run> {
  const preload = `data:text/javascript,${encodeURIComponent(usageReport)}`;
  const output = options.outputFile === undefined ? "pipe" : openSync(options.outputFile, "w");
  const child = spawn("node", ["--import", preload, command, ...words], {
    cwd: options.folder ?? resolve("."),
    env: { ...quietEnvironment(), ...options.environment },
    stdio: ["pipe", output, "pipe", "pipe"],
  });
  if (typeof output === "number") closeSync(output);
  const [input, ...streams] = child.stdio as unknown as [Writable, Readable | null, Readable, Readable];
  const texts = streams.map(wholeText);
  // A child that ends before it has read everything closes the pipe; that is its right.
  input.on("error", () => undefined);
  if (options.input === undefined || typeof options.input === "string") input.end(options.input ?? "");
  else options.input.pipe(input);
  const status = await new Promise<number | null>((done) => child.on("close", done));
  const [out = "", err = "", used = ""] = await Promise.all(texts);
  return { status, out, err, used: JSON.parse(used) as Run["used"] };
}

/** The environment without what would change the output: colour, width, locale, debugging. */
function quietEnvironment(): Record<string, string | undefined> {
  const { PATH, HOME } = process.env;
  return { PATH, HOME, LANG: "C.UTF-8" };
}

async function wholeText(stream: Readable | null): Promise<string> {
  if (stream === null) return "";
  const chunks: Buffer[] = [];
  for await (const chunk of stream) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks).toString();
}
