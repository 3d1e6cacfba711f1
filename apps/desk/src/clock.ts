/** Time as the desk sees it: an argument everywhere, so that tests and rehearsals set it. */
export interface Clock {
  /** Epoch milliseconds UTC. */
  now(): number;
  /** Resolves after so many milliseconds, or at once when the signal is aborted; never rejects. */
  pause(ms: number, signal: AbortSignal): Promise<void>;
}

/** The machine's own clock. */
export const machineClock: Clock = {
  now: () => Date.now(),
  pause: (ms, signal) =>
    new Promise((resolve) => {
      if (signal.aborted) {
        resolve();
        return;
      }
      const over = () => {
        clearTimeout(timer);
        signal.removeEventListener("abort", over);
        resolve();
      };
      const timer = setTimeout(over, Math.max(0, ms));
      signal.addEventListener("abort", over);
    }),
};
