/**
 * How right insulation histories are read: kind of trouble, day of crossing, steps found, false alarms. Simulated records
 * whose truth is known, from a model that is not the one they are read with. Writes bench/results/history-accuracy.{json,md}.
 * Run: npm run bench -- history-accuracy
 */
import { writeFileSync } from "node:fs";
import { readHistory } from "@earthbell/engine";
import { confusionOf } from "./history/confusion.ts";
import { coverageOf } from "./history/coverage.ts";
import { drawHistory, ZONE } from "./history/drawn-histories.ts";
import { accuracyReport } from "./history/accuracy-report.ts";
import { stepsOf } from "./history/steps.ts";

const SHARE = Number(process.env["EARTHBELL_BENCH_SHARE"] ?? "1");
const SEED = Number(process.env["EARTHBELL_BENCH_SEED"] ?? "70000000");

const confusion = confusionOf((index) => drawHistory(index, SEED), Math.round(2000 * SHARE));
const coverage = coverageOf(
  (index) => drawHistory(index, SEED + 1e6, { trouble: "progressive", style: "weather", days: 1826 }),
  Math.round(300 * SHARE),
);
const healthy = (index: number, days: number) => drawHistory(index, SEED + 2e6, { trouble: "healthy", days });
const steps = [5, 20].map((factor) =>
  stepsOf((index) => healthy(index, 730), Math.round(400 * SHARE), factor),
);
let [alarms, years] = [0, 0];
for (let index = 0; index < Math.round(300 * SHARE); index++) {
  const { history, days } = healthy(index, [365, 730, 1826][index % 3]!);
  const { finding } = readHistory({ array: "A", readings: history.readings }, { timezone: ZONE });
  if (finding.verdict !== "healthy") alarms++;
  years += days / 365;
}
const results = {
  date: new Date().toISOString().slice(0, 10),
  node: process.version,
  seed: SEED,
  confusion,
  coverage,
  steps,
  healthy: { alarms, years },
};
writeFileSync("bench/results/history-accuracy.json", `${JSON.stringify(results, null, 2)}\n`);
const report = accuracyReport(results);
writeFileSync("bench/results/history-accuracy.md", report);
process.stdout.write(report);
