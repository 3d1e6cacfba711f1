import type { JobResult, PaperJob } from "@earthbell/papers";
import { jobTools } from "./job-tools.ts";
import { paperThreads } from "./paper-threads.ts";
import { sha256 } from "./sha256.ts";

/** Papers that a desk makes at once; more wait for their turn. */
const AT_ONCE = 4;

/** What a desk makes papers with: threads of their own, so that it hears its arrays meanwhile. */
export function paperTools() {
  const threads = paperThreads(AT_ONCE);
  return {
    openFolder: jobTools().openFolder,
    digest: sha256,
    digestOfBytes: sha256,
    run: (job: PaperJob): Promise<JobResult> => threads.run(job),
    close: (): Promise<void> => threads.close(),
  };
}
