import { describeReading } from "./describe-reading.ts";
import type { Bench } from "./instruments.ts";
import { problemOf, type Problem } from "./problem.ts";
import type { Suspect } from "./finding.ts";
import { likeliestSlip, type Slip } from "./slip.ts";
import type { Reading, Visit } from "./visit.ts";

/** Whether the readings of each configuration can be true together, whatever the leak is. */
export interface Fit {
  readonly consistent: boolean;
  /** Sum of squared normalised residuals beyond what the freedom explains. */
  readonly chiSquared: number;
  readonly suspects: readonly Suspect[];
}

/** Chance below which readings count as contradicting each other: about one in two thousand. */
const LIMITS = [0, 12.1, 15.2, 17.7, 20, 22.1, 24.1, 26, 27.9, 29.7, 31.4] as const;

function limitFor(freedom: number): number {
  return LIMITS[freedom] ?? freedom + 3.3 * Math.sqrt(2 * freedom) + 7;
}

export function fitOf(problem: Problem): Fit {
  const bad = problem.measured.filter(
    ({ table }) => table.misfit.freedom > 0 && table.misfit.chiSquared > limitFor(table.misfit.freedom),
  );
  const impossible = problem.visit.readings.flatMap((_, index) => polesExceedWhole(problem, index));
  const chiSquared = Math.max(0, ...problem.measured.map(({ table }) => table.misfit.chiSquared));
  if (bad.length === 0 && impossible.length === 0) return { consistent: true, chiSquared, suspects: [] };
  const within = bad.length > 0 ? bad.flatMap(({ configuration }) => configuration.readings) : impossible;
  return { consistent: false, chiSquared, suspects: suspectsAmong(problem, [...new Set(within)]) };
}

/** |V+| + |V−| can't exceed + to − by more than the errors; true even where the fit has no freedom left. */
function polesExceedWhole(problem: Problem, index: number): number[] {
  const { visit, bench } = problem;
  const across = visit.readings[index]!;
  if (across.kind !== "voltage" || across.to === "earth") return [];
  const group =
    problem.measured.find(({ configuration }) => configuration.readings.includes(index))?.configuration
      .readings ?? [];
  const pole = (from: string): { index: number; value: number } | undefined => {
    const found = group.find((i) => {
      const reading = visit.readings[i]!;
      return reading.kind === "voltage" && reading.to === "earth" && reading.from === from;
    });
    return found === undefined ? undefined : { index: found, value: visit.readings[found]!.value };
  };
  const plus = pole("+");
  const minus = pole("-");
  if (!plus || !minus) return [];
  const meter = bench.meters.get(across.with)!;
  const error = (value: number): number =>
    Math.hypot(value * Math.hypot(meter.reading, bench.drift), meter.floorVolts);
  const sd = Math.hypot(error(across.value), error(plus.value), error(minus.value));
  return plus.value + minus.value > across.value + 5 * sd ? [index, plus.index, minus.index] : [];
}

/** Tries each reading left out, and each usual slip undone, and ranks what would make the rest agree. */
function suspectsAmong(problem: Problem, readings: readonly number[]): Suspect[] {
  const scored = readings.map((index) => ({
    index,
    without: misfitOf(problem.visit, problem.bench, (reading, i) => (i === index ? null : reading)),
  }));
  const best = Math.min(...scored.map(({ without }) => without));
  return scored
    .filter(({ without }) => without < best + 4)
    .sort((a, b) => a.without - b.without)
    .slice(0, 3)
    .map(({ index }) => ({
      reading: index,
      ...slipOf(problem, index),
      settle: `take reading ${String(index + 1)} (${describeReading(problem.visit.readings[index]!)}) again, saying each lead aloud, and repeat + to − directly after it`,
    }));
}

/** A corrected reading fits when the misfit of the whole falls below this. */
const FITS = 16;

function slipOf({ visit, bench }: Problem, index: number): Slip {
  return likeliestSlip(
    visit,
    visit.readings[index]!,
    (corrected) => misfitOf(visit, bench, (other, i) => (i === index ? corrected : other)) < FITS,
  );
}

function misfitOf(
  visit: Visit,
  bench: Bench,
  change: (reading: Reading, index: number) => Reading | null,
): number {
  const readings = visit.readings.flatMap((reading, index) => change(reading, index) ?? []);
  const problem = problemOf({ ...visit, readings }, bench);
  return problem.measured.reduce((sum, { table }) => sum + table.misfit.chiSquared, 0);
}
