import type { Clock } from "../clock.ts";

/** Rung when messages have been stored, so that nobody waits for the next look at the store. */
export interface Bell {
  readonly ring: () => void;
  /** How often it has rung. */
  readonly rung: () => number;
  /** Resolves when it rings, or has rung since, after so many milliseconds, or when the signal is aborted; never rejects. */
  readonly pause: (since: number, ms: number, signal: AbortSignal) => Promise<void>;
}

export function createBell(clock: Clock): Bell {
  const waiting = new Set<AbortController>();
  let count = 0;
  return {
    ring: () => {
      count += 1;
      for (const one of waiting) one.abort();
    },
    rung: () => count,
    pause: async (since, ms, signal) => {
      if (count !== since || signal.aborted) return;
      const woken = new AbortController();
      const over = (): void => {
        woken.abort();
      };
      waiting.add(woken);
      signal.addEventListener("abort", over);
      await clock.pause(ms, woken.signal);
      signal.removeEventListener("abort", over);
      waiting.delete(woken);
    },
  };
}
