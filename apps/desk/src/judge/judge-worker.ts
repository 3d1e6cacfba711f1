import { constants, setPriority } from "node:os";
import { parentPort } from "node:worker_threads";
import { type Judged, type JudgeJob, judgeNow } from "./judging.ts";

// On Linux a priority is that of one thread: where processors are few, whoever has to tell people goes first.
if (process.platform === "linux") setPriority(constants.priority.PRIORITY_LOW);

/** A thread that judges one site after the other, so that the desk listens and tells meanwhile. */
parentPort?.on("message", (job: JudgeJob) => {
  parentPort?.postMessage(judged(job));
});

function judged(job: JudgeJob): Judged {
  try {
    return { standing: judgeNow(job) };
  } catch (error) {
    return { bug: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}
