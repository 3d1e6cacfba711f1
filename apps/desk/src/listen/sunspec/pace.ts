/** Waits longer after each failure, never the same twice: what fell silent together must not come back together. */
export function backOffMs(failures: number, firstMs: number, longestMs: number, random: number): number {
  const full = Math.min(longestMs, firstMs * 2 ** Math.min(failures - 1, 30));
  return full * (0.75 + 0.25 * random);
}

/** Times that no setting changes. */
export const PACE = {
  /** A device that was not heard for this many intervals counts as unheard: what it last said is taken back. */
  unheardAfterPolls: 3,
  /** Longest wait before a device that fails is asked again. */
  longestWaitMs: 300_000,
  firstReconnectMs: 1000,
  longestReconnectMs: 60_000,
  /** How often the serial number is compared. */
  identityEveryMs: 600_000,
  /** First polls are spread over this time, or over the interval where that is shorter. */
  spreadMs: 60_000,
  telling: { heartbeatMs: 60_000, repeatMs: 600_000 },
} as const;
