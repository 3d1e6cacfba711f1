import type { Jobs } from "./jobs.ts";

interface Reply {
  readonly number: number;
  readonly answer?: unknown;
  readonly failed?: string;
}

interface Waiting {
  readonly answered: (answer: unknown) => void;
  readonly failed: (error: Error) => void;
}

const waiting = new Map<number, Waiting>();
let asked = 0;
let worker: Worker | null = null;

/** The engine is fetched and started when the first question comes, not with the page. */
function started(): Worker {
  if (worker !== null) return worker;
  worker = new Worker(new URL("./engine.worker.ts", import.meta.url), { type: "module" });
  worker.addEventListener("message", ({ data }: MessageEvent<Reply>) => {
    const one = waiting.get(data.number);
    waiting.delete(data.number);
    if (data.failed === undefined) one?.answered(data.answer);
    else one?.failed(new Error(data.failed));
  });
  worker.addEventListener("error", (event) => {
    const error = new Error(`The calculation could not be started: ${event.message}`);
    for (const one of waiting.values()) one.failed(error);
    waiting.clear();
    worker = null;
  });
  return worker;
}

/** Asks the engine on its own thread. */
export function ask<Job extends keyof Jobs>(
  job: Job,
  ...given: Parameters<Jobs[Job]>
): Promise<ReturnType<Jobs[Job]>> {
  const number = ++asked;
  return new Promise((resolve, reject) => {
    waiting.set(number, { answered: resolve as Waiting["answered"], failed: reject });
    const send = (): void => {
      started().postMessage({ number, job, given });
    };
    // Starting the engine takes a turn of its own, so that a slow phone shows the page and hears a press before.
    if (worker === null) setTimeout(send);
    else send();
  });
}
