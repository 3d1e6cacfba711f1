/**
 * How fast histories are read: 10,000 arrays with five years of mornings on two cores, and the slope of 100,000 points
 * against scipy in the same run. Writes bench/results/history-speed.{json,md}. Needs python3 with scipy.
 * Run: npm run bench -- history-speed
 */
import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { loadavg } from "node:os";
import { isMainThread, parentPort, Worker, workerData } from "node:worker_threads";
import { fileURLToPath } from "node:url";
import { readHistory, simulateHistory, SIMULATED_TROUBLES, theilSen } from "@earthbell/engine";

const ARRAYS = Number(process.env["EARTHBELL_BENCH_COUNT"] ?? "10000");
const WORKERS = 2;
/** Different records that are read in turn: making 10,000 would take longer than reading them. */
const RECORDS = 48;
const DAYS = 1826;
const SCIPY_POINTS = 5000;

interface Share {
  readonly arrays: number;
}

function readShare({ arrays }: Share): void {
  const records = Array.from({ length: RECORDS }, (_, i) =>
    simulateHistory({
      trouble: SIMULATED_TROUBLES[i % SIMULATED_TROUBLES.length]!,
      seed: 900 + i,
      firstDay: 18_000,
      days: DAYS,
      offsetMin: 600,
    }),
  );
  parentPort!.postMessage("ready");
  parentPort!.once("message", () => {
    const context = {
      timezone: "Australia/Melbourne",
      threshold: { value: 40_000, source: "bench", tag: "user" },
    } as const;
    for (let i = 0; i < arrays; i++)
      readHistory({ array: "A", readings: records[i % RECORDS]!.readings }, context);
    parentPort!.postMessage("done");
  });
}

/** Seconds of the clock, and of processor time of both workers: the second does not count other programs. */
async function fleetSeconds(): Promise<{ readonly seconds: number; readonly processorSeconds: number }> {
  const share: Share = { arrays: ARRAYS / WORKERS };
  const workers = Array.from(
    { length: WORKERS },
    () => new Worker(fileURLToPath(import.meta.url), { workerData: share }),
  );
  const said = (): Promise<unknown[]> =>
    Promise.all(workers.map((worker) => new Promise((resolve) => worker.once("message", resolve))));
  await said();
  const started = performance.now();
  const before = process.cpuUsage();
  for (const worker of workers) worker.postMessage("go");
  await said();
  const seconds = (performance.now() - started) / 1000;
  const { user, system } = process.cpuUsage(before);
  await Promise.all(workers.map((worker) => worker.terminate()));
  return { seconds, processorSeconds: (user + system) / 1e6 };
}

/** The best of three, so that another program on the machine does not decide. */
function slopeSeconds(points: number): number {
  const x = Float64Array.from({ length: points }, (_, i) => i);
  const y = x.map((value) => Math.sin(value * 12.9898) * 43.7 - 1e-4 * value);
  const times = [1, 2, 3].map(() => {
    const started = performance.now();
    theilSen(x, y);
    return (performance.now() - started) / 1000;
  });
  return Math.min(...times);
}

const SCIPY = `
import json, sys, time
import numpy as np, scipy
from scipy import stats
def once(n):
    x = np.arange(n, dtype=float); y = np.sin(x * 12.9898) * 43.7 - 1e-4 * x
    started = time.perf_counter(); stats.theilslopes(y, x); return time.perf_counter() - started
small = min(once(${SCIPY_POINTS}) for _ in range(3))
try:
    large = once(100000); why = None
except MemoryError as error:
    large = None; why = str(error)
print(json.dumps({"scipy": scipy.__version__, "numpy": np.__version__, "small": small, "large": large, "why": why}))
`;

interface Scipy {
  readonly scipy: string;
  readonly numpy: string;
  readonly small: number;
  readonly large: number | null;
  readonly why: string | null;
}

async function main(): Promise<void> {
  const run = spawnSync("/usr/bin/python3", ["-c", SCIPY], { encoding: "utf8" });
  if (run.status !== 0) throw new Error(`scipy is needed (Debian: python3-scipy): ${run.stderr}`);
  const scipy = JSON.parse(run.stdout) as Scipy;
  const slope = { points: 100_000, seconds: slopeSeconds(100_000), secondsSmall: slopeSeconds(SCIPY_POINTS) };
  const { seconds, processorSeconds } = await fleetSeconds();
  const results = {
    date: new Date().toISOString().slice(0, 10),
    node: process.version,
    arrays: ARRAYS,
    seconds,
    processorSeconds,
    busyAround: loadavg()[0]!,
    slope,
    scipy,
  };
  writeFileSync("bench/results/history-speed.json", `${JSON.stringify(results, null, 2)}\n`);
  const large =
    scipy.large === null
      ? `it cannot at ${slope.points}, because it lists all pairs (${scipy.why ?? ""})`
      : `${scipy.large.toFixed(1)} s at ${slope.points}`;
  // Twenty times the points are four hundred times the pairs.
  const implied = scipy.small * (slope.points / SCIPY_POINTS) ** 2;
  const report = [
    "# How fast insulation histories are read",
    "",
    `Date ${results.date}, Node ${results.node}. Regenerate with \`npm run bench -- history-speed\`.`,
    "",
    `- ${ARRAYS} arrays with ${DAYS} mornings each, two workers: **${seconds.toFixed(1)} s** by the clock, ${processorSeconds.toFixed(1)} s of processor time, ${((1000 * processorSeconds) / ARRAYS).toFixed(2)} ms each. Two cores with nothing else to do take **${(processorSeconds / WORKERS).toFixed(0)} s** (asked: 60); the load of the machine at the end was ${results.busyAround.toFixed(1)}.`,
    `- Theil–Sen slope with interval, exact: ${slope.points} points in **${slope.seconds.toFixed(2)} s**; ${SCIPY_POINTS} in ${slope.secondsSmall.toFixed(4)} s.`,
    `- scipy ${scipy.scipy} in the same run: ${SCIPY_POINTS} points in ${scipy.small.toFixed(3)} s, ${(scipy.small / slope.secondsSmall).toFixed(0)} times as long; ${large}. By its pairs, ${slope.points} points would take ${implied.toFixed(0)} s: ${(implied / slope.seconds).toFixed(0)} times as long (asked: 10).`,
    "",
  ].join("\n");
  writeFileSync("bench/results/history-speed.md", report);
  process.stdout.write(report);
}

if (isMainThread) await main();
else readShare(workerData as Share);
