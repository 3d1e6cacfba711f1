/**
 * What a time to notice costs: a year of onsets, the same beside a simulation at equal error in the same run, the sites of
 * the demo, and the ranking of 10,000 sites on two cores. Writes bench/results/notice.{json,md}.
 * Run: npm run bench -- notice        (needs /usr/bin/python3 with numpy and ephem)
 */
import { readFileSync, writeFileSync } from "node:fs";
import { cpus, loadavg } from "node:os";
import { isMainThread, workerData } from "node:worker_threads";
import type { NoticeModel } from "@earthbell/engine";
import { demoTimes } from "./notice/demo-sites.ts";
import { fleetError, fleetTime, type Share, takeShare } from "./notice/fleet-time.ts";
import { noticeBenchReport, type NoticeResults } from "./notice/report.ts";
import { checkedModel, comparison } from "./notice/simulation.ts";

const SEED = 20261125;
const RUNS = 40;
const SITES = Number(process.env["EARTHBELL_BENCH_COUNT"] ?? "10000");

async function main(): Promise<void> {
  const before = loadavg()[0]!;
  const model = checkedModel();
  const watchedBy = (detector: Partial<NoticeModel["detector"]>): NoticeModel => ({
    ...model,
    detector: { ...model.detector, ...detector },
  });
  const { version } = JSON.parse(readFileSync("package.json", "utf8")) as { version: string };
  const comparisons = [
    await comparison("start check", model, SEED, RUNS),
    await comparison("residual monitor sees half", watchedBy({ residualShare: 0.5 }), SEED + 100, RUNS),
    await comparison("continuous check", watchedBy({ continuous: true }), SEED + 200, RUNS),
  ];
  const demo = await demoTimes();
  const fleet = await fleetTime(SITES, SEED, import.meta.url);
  const compared = 100;
  const results: NoticeResults = {
    date: new Date().toISOString().slice(0, 10),
    version,
    machine: `${String(cpus().length)} × ${cpus()[0]?.model.trim() ?? "unknown"}, node ${process.versions.node}`,
    seed: SEED,
    load: [before, loadavg()[0]!],
    yearBarMs: 50,
    fleetBarSeconds: 60,
    comparisons,
    demo,
    fleet,
    fleetError: { sites: compared, worst: fleetError(compared, SEED) },
  };
  writeFileSync("bench/results/notice.json", `${JSON.stringify(results, null, 2)}\n`);
  writeFileSync("bench/results/notice.md", noticeBenchReport(results));
  process.stdout.write(noticeBenchReport(results));
}

if (isMainThread) await main();
else takeShare(workerData as Share);
