import { type ChildProcess, spawn } from "node:child_process";
import { createInterface } from "node:readline";
import { build } from "esbuild";
import type { StorePlace } from "../../apps/desk/src/store/index.ts";
import type { Command } from "./desk-process.ts";

const BUNDLE = "dist/checks/desk-process.mjs";

export async function bundleDesk(): Promise<void> {
  await build({
    entryPoints: ["checks/desk-crash/desk-process.ts"],
    outfile: BUNDLE,
    bundle: true,
    platform: "node",
    format: "esm",
    target: "node20.19",
    external: ["better-sqlite3", "pg", "yaml"],
    logLevel: "warning",
  });
}

/** One life of the desk: from its start to its kill, or to its end. */
export interface Life {
  /** Answers that came before the end. */
  readonly answers: readonly Readonly<Record<string, unknown>>[];
  tell(command: Command): void;
  /** Resolves with the first answer that has this field; null when the life ends before. */
  heard(field: string): Promise<unknown>;
  /** Closes its input, so that it stops in order. */
  stop(): void;
  kill(): void;
  isAlive(): boolean;
  readonly ended: Promise<"killed" | "stopped">;
}

/**
 * @param sink      the file to which the desk appends what it sends
 * @param killStep  the step at which it ends, at its `killAt`-th passing
 */
export function begin(place: StorePlace, sink: string, killStep: string, killAt: number): Life {
  const given = [JSON.stringify(place), sink, killStep, String(killAt)];
  const child: ChildProcess = spawn(process.execPath, [BUNDLE, ...given], {
    stdio: ["pipe", "pipe", "inherit"],
  });
  // A killed process does not read what is still written to it.
  child.stdin!.on("error", () => undefined);
  const answers: Record<string, unknown>[] = [];
  const waiting: { readonly field: string; readonly resolve: (value: unknown) => void }[] = [];
  const lines = createInterface({ input: child.stdout! });
  lines.on("line", (line) => {
    const answer = JSON.parse(line) as Record<string, unknown>;
    answers.push(answer);
    for (const one of waiting) if (one.field in answer) one.resolve(answer[one.field]);
  });
  const ended = new Promise<"killed" | "stopped">((resolve) => {
    child.once("close", (_code, signal) => {
      for (const one of waiting) one.resolve(null);
      resolve(signal === "SIGKILL" ? "killed" : "stopped");
    });
  });
  return {
    answers,
    tell: (command) => void child.stdin!.write(`${JSON.stringify(command)}\n`),
    heard: (field) => {
      const said = answers.find((answer) => field in answer);
      if (said !== undefined) return Promise.resolve(said[field]);
      if (child.exitCode !== null || child.signalCode !== null) return Promise.resolve(null);
      return new Promise((resolve) => waiting.push({ field, resolve }));
    },
    stop: () => void child.stdin!.end(),
    kill: () => void child.kill("SIGKILL"),
    isAlive: () => child.exitCode === null && child.signalCode === null,
    ended,
  };
}
