import { setTimeout as sleep } from "node:timers/promises";

/** What a window of polling cost. */
export interface Measured {
  /** Processor time as a share of one core, 1 being all of it. */
  readonly coreShare: number;
  /** Heap and buffers after collecting, at the start and at the end of the window. */
  readonly megabytesBefore: number;
  readonly megabytesAfter: number;
  readonly requestsPerSecond: number;
}

export async function measureWindow(windowMs: number, requests: () => number): Promise<Measured> {
  const megabytesBefore = megabytes();
  const asked = requests();
  const started = performance.now();
  const begin = process.cpuUsage();
  await sleep(windowMs);
  const { user, system } = process.cpuUsage(begin);
  const elapsedMs = performance.now() - started;
  return {
    coreShare: (user + system) / 1000 / elapsedMs,
    megabytesBefore,
    megabytesAfter: megabytes(),
    requestsPerSecond: ((requests() - asked) * 1000) / elapsedMs,
  };
}

function megabytes(): number {
  globalThis.gc?.();
  const { heapUsed, external } = process.memoryUsage();
  return (heapUsed + external) / 1e6;
}
