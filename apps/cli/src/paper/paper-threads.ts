import { existsSync } from "node:fs";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import type { JobResult, PaperJob } from "@earthbell/papers";
import { paperMaker } from "./job-tools.ts";

/** Makes papers, several at once where the computer can. */
export interface PaperThreads {
  readonly size: number;
  /** @throws Error for a bug of this program */
  readonly run: (job: PaperJob) => Promise<JobResult>;
  readonly close: () => Promise<void>;
}

type Said = { readonly result: JobResult } | { readonly bug: string };

/** Each thread holds a compiler with its fonts, about 60 MB. */
const MOST_THREADS = 4;
const script = new URL("./paper-worker.js", import.meta.url);

/**
 * Threads that make papers, started as they are needed. Where the program was not bundled, or one paper is all that is wanted,
 * papers are made in this thread.
 *
 * @param wanted  most papers that will be made at once
 */
export function paperThreads(wanted: number): PaperThreads {
  const size = Math.min(wanted, MOST_THREADS, availableParallelism());
  if (size < 2 && wanted < 2) return inThisThread();
  return existsSync(fileURLToPath(script)) ? inThreads(size) : inThisThread();
}

function inThisThread(): PaperThreads {
  return { size: 1, run: paperMaker(), close: () => Promise.resolve() };
}

interface Waiting {
  readonly job: PaperJob;
  readonly done: (said: Said) => void;
}

function inThreads(size: number): PaperThreads {
  const idle: Worker[] = [];
  const all: Worker[] = [];
  const waiting: Waiting[] = [];
  const next = (): void => {
    if (waiting.length === 0) return;
    const worker = idle.pop() ?? (all.length < size ? started() : undefined);
    if (worker === undefined) return;
    const { job, done } = waiting.shift()!;
    const end = (said: Said): void => {
      worker.off("message", answered).off("error", failed);
      worker.unref();
      done(said);
    };
    const answered = (said: Said): void => {
      idle.push(worker);
      end(said);
      next();
    };
    const failed = (error: Error): void => {
      all.splice(all.indexOf(worker), 1);
      end({ bug: error.stack ?? error.message });
      next();
    };
    worker.on("message", answered).on("error", failed);
    // A thread keeps the program awake only while it works.
    worker.ref();
    worker.postMessage(job);
  };
  const started = (): Worker => {
    const worker = new Worker(script);
    all.push(worker);
    return worker;
  };
  return {
    size,
    run: async (job) => {
      const said = await new Promise<Said>((done) => {
        waiting.push({ job, done });
        next();
      });
      if ("bug" in said) throw new Error(said.bug);
      return said.result;
    },
    close: async () => {
      await Promise.all(all.splice(0).map((worker) => worker.terminate()));
    },
  };
}
