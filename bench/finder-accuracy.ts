/**
 * Accuracy and calibration of the finder on simulated truth, written to bench/results/finder-accuracy.{json,md} and
 * docs/img/finder-{accuracy,calibration}.svg.
 * Run: npm run bench -- finder-accuracy        (scale with EARTHBELL_BENCH_SCALE, 1 by default: some minutes)
 */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { earthed, oneString, paralleled, twoFaults, withClamp } from "@earthbell/engine";
import { accuracyPlate, calibrationPlate } from "./finder/accuracy-plates.ts";
import { firstReadings } from "./finder/first-readings.ts";
import { closedLoop, noFault } from "./finder/measures.ts";
import { accuracyReport, type Accuracy } from "./finder/report.ts";
import { slips } from "./finder/slips.ts";

const scale = Number(process.env["EARTHBELL_BENCH_SCALE"] ?? "1");
const cases = (count: number): number => Math.max(10, Math.round(count * scale));
const SEED = 20261125;

const HARD = [10, 20e3] as const;
const SOFT = [20e3, 1.6e6] as const;
const HALF_DECADES = [
  [20e3, 63.2e3],
  [63.2e3, 200e3],
  [200e3, 632e3],
  [632e3, 1.6e6],
] as const;

const { version } = JSON.parse(readFileSync("package.json", "utf8")) as { version: string };
const results: Accuracy = {
  date: new Date().toISOString().slice(0, 10),
  seed: SEED,
  scale,
  version,
  first: [firstReadings(SEED, cases(1500), HARD), firstReadings(SEED + 1, cases(3000), SOFT)],
  byWeights: [
    firstReadings(SEED + 6, cases(750), HARD, "weights"),
    firstReadings(SEED + 7, cases(3000), SOFT, "weights"),
  ],
  halfDecades: HALF_DECADES.map((ohms, i) => firstReadings(SEED + 2 + i, cases(1200), ohms)),
  closed: [
    closedLoop("one fault, 10 Ω to 20 kΩ", SEED + 10, cases(400), (random) => oneString(random, HARD)),
    closedLoop("one fault, 20 kΩ to 1.6 MΩ", SEED + 11, cases(400), (random) => oneString(random, SOFT)),
    closedLoop("2 to 24 strings in parallel, 10 Ω to 20 kΩ", SEED + 12, cases(150), (random) =>
      paralleled(random, HARD),
    ),
    closedLoop("2 to 24 strings in parallel, 20 kΩ to 1.6 MΩ", SEED + 13, cases(150), (random) =>
      paralleled(random, SOFT),
    ),
    closedLoop("two faults in one string", SEED + 14, cases(300), twoFaults),
    closedLoop("2 to 24 strings with a leakage clamp, 10 Ω to 20 kΩ", SEED + 15, cases(150), (random) =>
      withClamp(paralleled(random, HARD)),
    ),
    closedLoop("functionally earthed, the earth opened, 10 Ω to 200 kΩ", SEED + 16, cases(150), (random) =>
      earthed(random, "fuse", true),
    ),
    closedLoop(
      "functionally earthed through a closed resistor of 5 to 100 kΩ, 10 Ω to 200 kΩ",
      SEED + 17,
      cases(150),
      (random) => earthed(random, "resistor", false),
    ),
  ],
  noFault: noFault(SEED + 20, cases(1500)),
  slips: slips(SEED + 30, cases(300)),
};
mkdirSync("docs/img", { recursive: true });
writeFileSync("bench/results/finder-accuracy.json", `${JSON.stringify(results, null, 2)}\n`);
writeFileSync("bench/results/finder-accuracy.md", accuracyReport(results));
writeFileSync("docs/img/finder-accuracy.svg", accuracyPlate(results));
writeFileSync("docs/img/finder-calibration.svg", calibrationPlate(results));
process.stdout.write(accuracyReport(results));
