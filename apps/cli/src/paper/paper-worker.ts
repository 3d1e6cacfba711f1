import { parentPort } from "node:worker_threads";
import { type PaperJob, runJob } from "@earthbell/papers";
import { jobTools } from "./job-tools.ts";

const tools = jobTools();

/** A thread that makes one paper after the other, so that the rest of the program goes on meanwhile. */
parentPort?.on("message", (job: PaperJob) => {
  runJob(job, tools).then(
    (result) => parentPort?.postMessage({ result }),
    (error: unknown) =>
      parentPort?.postMessage({ bug: error instanceof Error ? error.stack : String(error) }),
  );
});
