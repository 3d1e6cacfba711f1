import { JOBS } from "./jobs.ts";

interface Asked {
  readonly number: number;
  readonly job: keyof typeof JOBS;
  readonly given: readonly unknown[];
}

const port = globalThis as unknown as Pick<Worker, "postMessage" | "addEventListener">;

port.addEventListener("message", (event) => {
  const { number, job, given } = (event as MessageEvent<Asked>).data;
  try {
    const work = JOBS[job] as (...given: readonly unknown[]) => unknown;
    port.postMessage({ number, answer: work(...given) });
  } catch (error) {
    port.postMessage({ number, failed: error instanceof Error ? error.message : String(error) });
  }
});
