/**
 * What a finding costs, beside a circuit simulator solving the same array once, and whether memory grows. Writes
 * bench/results/finder-speed.{json,md} and docs/img/finder-speed.svg.
 * Run: npm run bench -- finder-speed        (needs ngspice on the PATH)
 */
import { cpus } from "node:os";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { drawTruth, exactReading, locate, seededRandom, type Visit } from "@earthbell/engine";
// A finding without its plan is not for sale; it is put together here from the finder's own stages.
import { fitOf } from "../packages/engine/src/finder/fit.ts";
import { benchOf } from "../packages/engine/src/finder/instruments.ts";
import { posteriorOf } from "../packages/engine/src/finder/posterior.ts";
import { problemOf } from "../packages/engine/src/finder/problem.ts";
import { withoutOutvoted } from "../packages/engine/src/finder/repeats.ts";
import { judge, rankPlaces } from "../packages/engine/src/finder/verdict.ts";
import { timed } from "./finder/clock.ts";
import { ngspiceInProcess, ngspiceOnce, ngspiceVersion } from "./finder/spice-reference.ts";
import {
  speedPlate,
  speedReport,
  type Cost,
  type Growth,
  type Heap,
  type Speed,
} from "./finder/speed-report.ts";
import { arrayOf, visitOfSize, type ArraySize } from "./finder/speed-visits.ts";

const SEED = 20261125;
const FAULTS = [1e3, 30e3, 500e3];
const ONE: ArraySize = { strings: 1, modules: 20, readings: 5 };
const LARGE: ArraySize = { strings: 24, modules: 26, readings: 30 };

function withoutPlan(visit: Visit): string {
  const bench = benchOf(visit);
  const problem = problemOf(withoutOutvoted(visit, bench).visit, bench);
  const posterior = posteriorOf(problem);
  const ranked = rankPlaces(problem.places, posterior.places);
  const fit = fitOf(problem);
  return judge(posterior, ranked, { fit, declined: null, insulationAtLeastOhms: 0 }).verdict;
}

const inProcess = await ngspiceInProcess();

async function costOf(name: string, size: ArraySize, runs: number, barMs: number): Promise<Cost> {
  const faultOhms = FAULTS[1]!;
  const spice = ngspiceOnce(size, faultOhms);
  const solver = inProcess(size, faultOhms);
  // Both references must have solved the array that the finder's readings come from.
  const expected = exactReading(drawTruth({ ...arrayOf(size, faultOhms), mismatch: 0 }, seededRandom(1)), {
    with: "meter",
    on: size.strings > 1 ? "C1" : "S1",
    from: "-",
    to: "earth",
  });
  for (const solved of [spice(), await solver()])
    if (Math.abs(Math.abs(solved) / Math.abs(expected) - 1) > 0.02)
      throw new Error(`${name}: the reference reads ${String(solved)} V, the array ${String(expected)} V`);
  const faults = [];
  for (const ohms of FAULTS) {
    const visit = visitOfSize(size, ohms, SEED);
    faults.push({
      ohms,
      verdict: locate(visit).verdict,
      withoutPlan: await timed(runs, () => withoutPlan(visit)),
      withPlan: await timed(runs, () => locate(visit)),
    });
  }
  return {
    name,
    size,
    barMs,
    faults,
    ngspiceProcess: await timed(8, spice),
    ngspiceInProcess: await timed(size.strings > 1 ? 4 : 12, solver),
  };
}

/** Heap after full collections, over ten thousand findings of fifty visits by turns. */
function heapOver(findings: number): Heap {
  const visits = Array.from({ length: 50 }, (_, i) => visitOfSize(ONE, 10 * 1.6e5 ** (i / 50), SEED + i));
  const settled = (): number => {
    globalThis.gc?.();
    globalThis.gc?.();
    return process.memoryUsage().heapUsed / 2 ** 20;
  };
  for (const visit of visits) locate(visit);
  const megabytes = [settled()];
  for (let done = 0; done < findings; done++) {
    locate(visits[done % visits.length]!);
    if ((done + 1) % (findings / 5) === 0) megabytes.push(settled());
  }
  return { findings, megabytes };
}

async function growth(name: Growth["name"], sizes: readonly ArraySize[]): Promise<Growth> {
  const points = [];
  for (const size of sizes) {
    const visit = visitOfSize(size, FAULTS[1]!, SEED);
    const without = await timed(7, () => withoutPlan(visit));
    const withPlan = await timed(7, () => locate(visit));
    points.push({ count: size[name], withoutPlanMs: without.cpuMedianMs, withPlanMs: withPlan.cpuMedianMs });
  }
  return { name, points };
}

const { version } = JSON.parse(readFileSync("package.json", "utf8")) as { version: string };
const results: Speed = {
  date: new Date().toISOString().slice(0, 10),
  seed: SEED,
  version,
  machine: `${String(cpus().length)} × ${cpus()[0]?.model.trim() ?? "unknown"}, node ${process.versions.node}`,
  reference: ngspiceVersion(),
  costs: [
    await costOf("one string of 20 modules, 5 readings", ONE, 60, 20),
    await costOf("24 strings of 26 modules, 30 readings", LARGE, 20, 200),
  ],
  planBarMs: 1000,
  heap: heapOver(Number(process.env["EARTHBELL_BENCH_FINDINGS"] ?? "10000")),
  growth: [
    await growth(
      "strings",
      [1, 2, 4, 8, 16, 24, 48].map((strings) => ({ ...LARGE, strings, readings: strings > 1 ? 30 : 5 })),
    ),
    await growth(
      "modules",
      [5, 10, 20, 50, 100, 200].map((modules) => ({ ...ONE, modules })),
    ),
    await growth(
      "readings",
      [3, 5, 10, 20, 30, 60].map((readings) => ({ ...LARGE, readings })),
    ),
  ],
};
mkdirSync("docs/img", { recursive: true });
writeFileSync("bench/results/finder-speed.json", `${JSON.stringify(results, null, 2)}\n`);
writeFileSync("bench/results/finder-speed.md", speedReport(results));
writeFileSync("docs/img/finder-speed.svg", speedPlate(results));
process.stdout.write(speedReport(results));
