/** Median and 95th percentile of wall and processor time of one run [ms]. */
export interface Timing {
  readonly runs: number;
  readonly medianMs: number;
  readonly p95Ms: number;
  readonly cpuMedianMs: number;
  readonly cpuP95Ms: number;
}

/**
 * Times `work` after a warm-up. Processor time counts every thread of this process, the collector's and the compiler's too,
 * but not what other processes take from the machine meanwhile.
 */
export async function timed(runs: number, work: () => unknown): Promise<Timing> {
  for (let i = 0; i < Math.max(3, runs >> 2); i++) await work();
  const wall: number[] = [];
  const cpu: number[] = [];
  for (let i = 0; i < runs; i++) {
    const used = process.cpuUsage();
    const started = performance.now();
    await work();
    wall.push(performance.now() - started);
    const { user, system } = process.cpuUsage(used);
    cpu.push((user + system) / 1000);
  }
  return {
    runs,
    medianMs: quantile(wall, 0.5),
    p95Ms: quantile(wall, 0.95),
    cpuMedianMs: quantile(cpu, 0.5),
    cpuP95Ms: quantile(cpu, 0.95),
  };
}

function quantile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
}
