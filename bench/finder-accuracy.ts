/**
 * Accuracy and calibration of the finder on simulated truth, written to bench/results/finder-accuracy.{json,md}.
 * Run: npm run bench -- finder-accuracy        (scale with EARTHBELL_BENCH_SCALE, 1 by default)
 */
import { writeFileSync } from "node:fs";
import { oneString, paralleled, twoFaults } from "@earthbell/engine";
import { closedLoop, firstReadings, noFault, slips } from "./finder/measures.ts";
import { accuracyReport } from "./finder/report.ts";

const scale = Number(process.env["EARTHBELL_BENCH_SCALE"] ?? "1");
const cases = (count: number): number => Math.max(10, Math.round(count * scale));
const SEED = 20261125;

const HALF_DECADES: readonly (readonly [number, number])[] = [
  [20e3, 63.2e3],
  [63.2e3, 200e3],
  [200e3, 632e3],
  [632e3, 1.6e6],
];

const results = {
  date: new Date().toISOString().slice(0, 10),
  seed: SEED,
  version: "0.1.0",
  first: [firstReadings(SEED, cases(1500), [10, 20e3]), firstReadings(SEED + 1, cases(3000), [20e3, 1.6e6])],
  halfDecades: HALF_DECADES.map((ohms, i) => firstReadings(SEED + 2 + i, cases(1200), ohms)),
  closed: [
    closedLoop("one fault, 10 Ω to 20 kΩ", SEED + 10, cases(400), (random) => oneString(random, [10, 20e3])),
    closedLoop("one fault, 20 kΩ to 1.6 MΩ", SEED + 11, cases(400), (random) =>
      oneString(random, [20e3, 1.6e6]),
    ),
    closedLoop("2 to 24 strings in parallel, 10 Ω to 20 kΩ", SEED + 12, cases(150), (random) =>
      paralleled(random, [10, 20e3]),
    ),
    closedLoop("2 to 24 strings in parallel, 20 kΩ to 1.6 MΩ", SEED + 13, cases(150), (random) =>
      paralleled(random, [20e3, 1.6e6]),
    ),
    closedLoop("two faults in one string", SEED + 14, cases(300), twoFaults),
  ],
  noFault: noFault(SEED + 20, cases(1500)),
  slips: slips(SEED + 30, cases(300)),
};
writeFileSync("bench/results/finder-accuracy.json", `${JSON.stringify(results, null, 2)}\n`);
writeFileSync("bench/results/finder-accuracy.md", accuracyReport(results));
process.stdout.write(accuracyReport(results));
