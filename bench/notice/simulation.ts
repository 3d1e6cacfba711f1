import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { type NoticeAnswer, type NoticeModel, timeToNotice } from "@earthbell/engine";
import { timed, type Timing } from "../finder/clock.ts";

/**
 * The simulation of checks/notice-monte-carlo on one model: time of a small and a large run, and the curves of all faults.
 * Its calendar and sunrises cost the same for few faults as for many, so they are taken out of its time.
 */
const PROGRAM = `
import json, platform, sys, time
sys.path.insert(0, "checks/notice-monte-carlo")
import ephem, generate, numpy as np
asked = json.load(sys.stdin)
def once(faults, seed):
    generate.FAULTS = faults
    started = time.process_time()
    found = generate.simulate(asked["model"], np.random.default_rng(seed))
    seconds = time.process_time() - started
    return seconds, np.array([[np.mean(m > 60 * h) for h in generate.LAGS_HOURS] for _, m in found])
fixed = min(once(1000, seed)[0] for seed in range(3))
times, curves = [], []
for i in range(asked["rounds"]):
    seconds, curve = once(asked["faults"], asked["seed"] + i)
    times.append(seconds); curves.append(curve)
print(json.dumps({"numpy": np.__version__, "ephem": ephem.__version__, "python": platform.python_version(),
    "fixedSeconds": fixed, "secondsEach": sorted(times)[len(times) // 2],
    "lagsHours": generate.LAGS_HOURS, "curves": np.mean(curves, axis=0).tolist()}))
`;

export interface Simulated {
  readonly numpy: string;
  readonly ephem: string;
  readonly python: string;
  /** Calendar and sunrises [s]. */
  readonly fixedSeconds: number;
  /** Median of one round, calendar and sunrises included [s]. */
  readonly secondsEach: number;
  readonly lagsHours: readonly number[];
  readonly curves: readonly (readonly number[])[];
}

const ROUNDS = 8;
const FAULTS = 500_000;

function simulated(model: NoticeModel, seed: number): Simulated {
  const input = JSON.stringify({ model, seed, faults: FAULTS, rounds: ROUNDS });
  const run = spawnSync("/usr/bin/python3", ["-c", PROGRAM], { input, encoding: "utf8", maxBuffer: 1 << 26 });
  if (run.status !== 0)
    throw new Error(
      `the simulation needs numpy and ephem (Debian: python3-numpy, python3-ephem): ${run.stderr}`,
    );
  return JSON.parse(run.stdout) as Simulated;
}

/** The site with three paths and four people that the check simulates. */
export function checkedModel(): NoticeModel {
  const { cases } = JSON.parse(readFileSync("checks/notice-monte-carlo/cases.json", "utf8")) as {
    cases: readonly { readonly site: string; readonly model: NoticeModel }[];
  };
  return cases.find(({ site }) => site === "three paths, four people")!.model;
}

export interface Comparison {
  readonly detector: string;
  readonly exact: Timing;
  /** Faults of the reference. */
  readonly referenceFaults: number;
  /** Root mean square over all curves and lags: of the exact answer's difference from the reference … */
  readonly differenceRms: number;
  /** … and of the reference's own sampling error. */
  readonly samplingRms: number;
  /** Error of the exact answer, the reference's own taken out; never under the latter. */
  readonly errorRms: number;
  /** Faults with which a simulation has that error, and its processor time for them without calendar and sunrises [s]. */
  readonly equalFaults: number;
  readonly equalSeconds: number;
  /** The simulation's time over the exact answer's, without and with calendar and sunrises. */
  readonly ratio: number;
  readonly ratioWithCalendar: number;
  readonly simulation: Omit<Simulated, "curves" | "lagsHours">;
}

function squares(answers: readonly NoticeAnswer[], { curves, lagsHours }: Simulated) {
  const points = answers.flatMap(({ curve }, a) =>
    lagsHours.map((hours, i) => ({
      exact: curve.find((point) => Math.abs(point.hours - hours) < 1e-9)!.unnoticed,
      simulated: curves[a]![i]!,
    })),
  );
  const mean = (of: (point: (typeof points)[number]) => number): number =>
    points.reduce((sum, point) => sum + of(point), 0) / points.length;
  return {
    difference: mean((point) => (point.exact - point.simulated) ** 2),
    ofOneFault: mean((point) => point.simulated * (1 - point.simulated)),
  };
}

/** Exact answer and simulation of one model in this run: what each costs for the same error. */
export async function comparison(
  detector: string,
  model: NoticeModel,
  seed: number,
  runs: number,
): Promise<Comparison> {
  const { curves, lagsHours, ...simulation } = simulated(model, seed);
  const { difference, ofOneFault } = squares(timeToNotice(model), { curves, lagsHours, ...simulation });
  const exact = await timed(runs, () => timeToNotice(model));
  const referenceFaults = ROUNDS * FAULTS;
  const sampling = ofOneFault / referenceFaults;
  const error = Math.max(difference - sampling, sampling);
  const equalFaults = Math.round(ofOneFault / error);
  const equalSeconds = (equalFaults * (simulation.secondsEach - simulation.fixedSeconds)) / FAULTS;
  const exactSeconds = exact.cpuMedianMs / 1000;
  return {
    detector,
    exact,
    referenceFaults,
    differenceRms: Math.sqrt(difference),
    samplingRms: Math.sqrt(sampling),
    errorRms: Math.sqrt(error),
    equalFaults,
    equalSeconds,
    ratio: equalSeconds / exactSeconds,
    ratioWithCalendar: (equalSeconds + simulation.fixedSeconds) / exactSeconds,
    simulation,
  };
}
