import type { Clock } from "../clock.ts";

/** Says why an attempt was given up; its text is what the outbox records. */
export class GaveUp extends Error {
  override readonly name = "GaveUp";
}

/**
 * Gives one attempt so much time. Its signal is aborted when the time is over, or when the caller stops.
 *
 * @throws what the work throws; `GaveUp` where the time was over or the caller stopped, even if the work does not heed its signal
 */
export async function within<Result>(
  clock: Clock,
  limitMs: number,
  stop: AbortSignal,
  work: (signal: AbortSignal) => Promise<Result>,
): Promise<Result> {
  const over = new AbortController();
  const done = new AbortController();
  const given = AbortSignal.any([stop, over.signal]);
  const tooLate = clock.pause(limitMs, AbortSignal.any([stop, done.signal])).then(() => {
    over.abort();
    throw new GaveUp("too late");
  });
  tooLate.catch(() => undefined);
  try {
    return await Promise.race([work(given), tooLate]);
  } catch (error) {
    if (stop.aborted) throw new GaveUp("The desk is stopping.");
    if (over.signal.aborted) throw new GaveUp(`No answer within ${Math.round(limitMs / 1000)} s.`);
    throw error;
  } finally {
    done.abort();
  }
}
