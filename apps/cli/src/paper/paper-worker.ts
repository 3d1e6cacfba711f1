import { parentPort } from "node:worker_threads";
import type { PaperJob } from "@earthbell/papers";
import { paperMaker } from "./job-tools.ts";

const make = paperMaker();

/** A thread that makes one paper after the other, so that the rest of the program goes on meanwhile. */
parentPort?.on("message", (job: PaperJob) => {
  make(job).then(
    (result) => parentPort?.postMessage({ result }),
    (error: unknown) =>
      parentPort?.postMessage({ bug: error instanceof Error ? error.stack : String(error) }),
  );
});
