import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { assessSite, type RulePack, type Site } from "@earthbell/engine";
import { type SiteStanding, standingOf } from "./site-standing.ts";

/** What has to be known to say how a site stands. */
export interface JudgeJob {
  readonly site: Site;
  /** The day of the assessment, YYYY-MM-DD. */
  readonly onDate: string;
  readonly packs: readonly RulePack[];
}

/** What a thread says of a job. */
export type Judged = { readonly standing: SiteStanding } | { readonly bug: string };

/** Works out how sites stand, one after the other. */
export interface Judging {
  /** @throws Error for a bug of this program */
  readonly judge: (job: JudgeJob) => Promise<SiteStanding>;
  /** Nothing more is to be judged for a while. */
  readonly rest: () => Promise<void>;
}

const script = new URL("./judge-worker.js", import.meta.url);

/**
 * Judges in a thread of its own, since an assessment takes up to some tenths of a second in which nobody would be told of
 * anything. Where the program was not bundled, as in tests, sites are judged in this thread.
 *
 * @param worker  the bundled `judge-worker.ts`
 */
export function judging(worker: URL = script): Judging {
  return existsSync(fileURLToPath(worker)) ? inThread(worker) : inThisThread();
}

export function judgeNow({ site, onDate, packs }: JudgeJob): SiteStanding {
  return standingOf(site, assessSite(site, { packs, onDate }), onDate);
}

function inThisThread(): Judging {
  return { judge: (job) => Promise.resolve(judgeNow(job)), rest: () => Promise.resolve() };
}

/** The thread lives while there is something to judge: it holds an engine of its own. */
function inThread(worker: URL): Judging {
  let thread: Worker | null = null;
  return {
    judge: async (job) => {
      thread ??= new Worker(worker);
      const said = await answerOf(thread, job).catch((error: unknown) => {
        thread = null;
        throw error;
      });
      if ("bug" in said) throw new Error(said.bug);
      return said.standing;
    },
    rest: async () => {
      const resting = thread;
      thread = null;
      await resting?.terminate();
    },
  };
}

function answerOf(thread: Worker, job: JudgeJob): Promise<Judged> {
  return new Promise((resolve, reject) => {
    const gone = (code: number): void => {
      reject(new Error(`The thread that judges sites ended with ${String(code)}.`));
    };
    thread.once("error", reject).once("exit", gone);
    thread.once("message", (said: Judged) => {
      thread.off("error", reject).off("exit", gone);
      resolve(said);
    });
    thread.postMessage(job);
  });
}
