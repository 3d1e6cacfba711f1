import { rename, writeFile } from "node:fs/promises";
import type { Clock } from "../clock.ts";
import type { Log } from "../log.ts";

/** Where the desk says that it is alive, for a switch outside that raises the alarm when it hears nothing. */
export interface DeadManOptions {
  /** File that is written anew with the instant each time. */
  readonly file?: string;
  /** Address that is asked each time; the body of the answer is not looked at. */
  readonly url?: string;
  readonly everyMs: number;
}

/** Longest wait for the switch's answer. */
const ANSWER_MS = 10_000;

/**
 * Gives a sign of life again and again until the signal. It is given only while the desk can look at what is due: a desk
 * that runs and does nothing has to fall silent.
 *
 * @param atWork  whether the watch has looked at what is due lately
 */
export async function runDeadMan(
  { file, url, everyMs }: DeadManOptions,
  {
    clock,
    log,
    atWork,
    ask = askAddress,
  }: {
    readonly clock: Clock;
    readonly log: Log;
    readonly atWork: () => Promise<boolean>;
    readonly ask?: (url: string) => Promise<void>;
  },
  signal: AbortSignal,
): Promise<void> {
  while (!signal.aborted) {
    if (await atWork().catch(() => false)) {
      if (file !== undefined) await attempt(log, "file", () => writeBeat(file, clock.now()));
      if (url !== undefined) await attempt(log, "address", () => ask(url));
    } else log.error({}, "no sign of life is given, since the watch does not look at what is due");
    await clock.pause(everyMs, signal);
  }
}

/** Whole or not at all: whoever polls the file never reads half an instant. */
async function writeBeat(file: string, now: number): Promise<void> {
  await writeFile(`${file}.part`, `${new Date(now).toISOString()}\n`);
  await rename(`${file}.part`, file);
}

async function askAddress(url: string): Promise<void> {
  const response = await fetch(url, { redirect: "error", signal: AbortSignal.timeout(ANSWER_MS) });
  await response.body?.cancel();
  if (!response.ok) throw new Error(`status ${String(response.status)}`);
}

async function attempt(log: Log, where: string, work: () => Promise<void>): Promise<void> {
  try {
    await work();
  } catch (error) {
    log.warn(
      { where, reason: error instanceof Error ? error.message : String(error) },
      "the sign of life was not given",
    );
  }
}
