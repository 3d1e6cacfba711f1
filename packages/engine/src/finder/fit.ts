import { describeReading } from "./describe-reading.ts";
import type { Bench } from "./instruments.ts";
import { problemOf, type Problem } from "./problem.ts";
import type { Suspect } from "./finding.ts";
import type { Reading, Visit, VoltageReading } from "./visit.ts";

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
  const group = problem.measured.find(({ configuration }) => configuration.readings.includes(index))!
    .configuration.readings;
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
    .map(({ index }) => {
      const slip = likeliestSlip(problem, index);
      return {
        reading: index,
        blunder: slip,
        settle: `take reading ${String(index + 1)} (${describeReading(problem.visit.readings[index]!)}) again, saying each lead aloud, and repeat + to − directly after it`,
      };
    });
}

/** A corrected reading fits when the misfit of the whole falls below this. */
const FITS = 16;

/** The usual slip that, undone, makes the readings agree; slips that explain a value exactly are tried first. */
function likeliestSlip(problem: Problem, index: number): string {
  const reading = problem.visit.readings[index]!;
  const fits = (corrected: Reading): boolean =>
    misfitOf(problem.visit, problem.bench, (other, i) => (i === index ? corrected : other)) < FITS;
  if (reading.kind === "voltage" && reading.value < 1)
    return "meter on AC, a lead not touching, or a reading in mV taken as V";
  if (reading.kind === "voltage" && otherTerminals(reading).some(fits))
    return "leads swapped: it fits as the reading of other terminals";
  if ([1000, 0.001, 10, 0.1].some((factor) => fits(scaled(reading, factor))))
    return "reading in mV taken as V, or the decimal point slipped";
  if (LIGHT_FACTORS.some((factor) => fits(scaled(reading, factor))))
    return "light or temperature changed before it, or a string was still connected";
  return "no usual slip explains it: a string still connected, or a wrong string length";
}

/** From half to nearly twice, in steps that no needle of the fit falls between. */
const LIGHT_FACTORS = Array.from({ length: 120 }, (_, i) => 0.55 * 1.0095 ** i);

function otherTerminals(reading: VoltageReading): Reading[] {
  const pairs = [
    ["+", "earth"],
    ["-", "earth"],
    ["+", "-"],
  ] as const;
  return pairs
    .filter(([from, to]) => from !== reading.from || to !== reading.to)
    .map(([from, to]) => ({ ...reading, from, to }));
}

function scaled(reading: Reading, factor: number): Reading {
  return { ...reading, value: reading.value * factor } as Reading;
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
