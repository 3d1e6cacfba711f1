import { startTransition, useEffect, useRef, useState } from "react";
import { ask } from "./ask.ts";
import type { Jobs } from "./jobs.ts";

/** `value` stays the last answer while a newer question is under way, so that a page does not go blank. */
export interface Answer<Value> {
  readonly value: Value | null;
  readonly underWay: boolean;
  readonly failed: string | null;
}

const NOTHING_YET = { value: null, underWay: true, failed: null } as const;

/**
 * The engine's answer to a question that changes. While one is under way only the newest other one is kept, so a person who
 * types fast never waits for answers to what is no longer asked.
 *
 * @param given  arguments of the job; null: nothing to ask yet
 */
export function useAnswer<Job extends keyof Jobs>(
  job: Job,
  given: Parameters<Jobs[Job]> | null,
): Answer<ReturnType<Jobs[Job]>> {
  const [answer, setAnswer] = useState<Answer<ReturnType<Jobs[Job]>>>(NOTHING_YET);
  const line = useRef({ busy: false, next: null as Parameters<Jobs[Job]> | null, gone: false });
  const question = JSON.stringify(given);
  useEffect(() => {
    const state = line.current;
    state.gone = false;
    return () => {
      state.gone = true;
    };
  }, []);
  useEffect(() => {
    const state = line.current;
    state.next = given;
    // The same object where nothing changes: a page need not be drawn again for it.
    if (given !== null) setAnswer((last) => (last.underWay ? last : { ...last, underWay: true }));
    if (!state.busy) void run();
    async function run(): Promise<void> {
      state.busy = true;
      while (state.next !== null) {
        const now = state.next;
        state.next = null;
        const done = await answered(job, now);
        if (state.gone) break;
        // Drawn in slices: who types meanwhile is heard first.
        startTransition(() => {
          setAnswer((last) => ({
            value: done.value ?? last.value,
            failed: done.failed,
            underWay: state.next !== null,
          }));
        });
      }
      state.busy = false;
    }
    // The text of the question stands for its arguments: they are plain data.
  }, [job, question]);
  return answer;
}

async function answered<Job extends keyof Jobs>(
  job: Job,
  given: Parameters<Jobs[Job]>,
): Promise<{ readonly value: ReturnType<Jobs[Job]> | null; readonly failed: string | null }> {
  try {
    return { value: await ask(job, ...given), failed: null };
  } catch (error) {
    return { value: null, failed: error instanceof Error ? error.message : String(error) };
  }
}
