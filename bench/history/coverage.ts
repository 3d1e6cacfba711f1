import { type HistoryReading, readHistory } from "@earthbell/engine";
import { type Drawn, FIRST_DAY, ZONE } from "./drawn-histories.ts";

const BOLTZMANN_EV = 8.617333e-5;
const DAY_MS = 86_400_000;

export interface Coverage {
  readonly inside: number;
  readonly count: number;
  /** Intervals whose later end was "not within five years". */
  readonly open: number;
  /** Truth before the interval, and after it. */
  readonly early: number;
  readonly late: number;
  /** Median of |middle − truth| in days, where both exist. */
  readonly medianErrorDays: number;
  /** Histories that were not called progressive at the cut, not counted. */
  readonly notFound: number;
}

/**
 * The day on which the dry array crosses a threshold, stated from the readings up to a cut, against the truth.
 *
 * The truth is the simulated dry resistance at 15 °C as the instrument would show it: the level that histories are
 * referred to. The threshold is set at the true level of a day drawn 30 to 700 days after the cut.
 */
export function coverageOf(draw: (index: number) => Drawn, wanted: number): Coverage {
  const errors: number[] = [];
  let [inside, count, open, early, late, notFound] = [0, 0, 0, 0, 0, 0];
  for (let index = 0; count < wanted; index++) {
    const { history, days } = draw(index);
    const truth = trueLevel(history.array, history.dryOhms);
    const cut = history.array.onsetDay + 120 + ((index * 131) % 500);
    const ahead = 30 + ((index * 197) % 670);
    if (cut + ahead >= days || truth[0]! - truth[cut]! < 0.25) continue;
    const threshold = 10 ** truth[cut + ahead]!;
    const readings = history.readings.filter(({ at }: HistoryReading) => at < (FIRST_DAY + cut) * DAY_MS);
    const { finding, mornings } = readHistory(
      { array: "A", readings },
      { timezone: ZONE, threshold: { value: threshold, source: "bench", tag: "user" } },
    );
    if (finding.verdict !== "progressive" || finding.forecast?.dry == null) {
      notFound++;
      continue;
    }
    const crossing = finding.forecast.dry;
    const trueDays = FIRST_DAY + cut + ahead - mornings.at(-1)!.day;
    count++;
    if (crossing.latestDays === null) open++;
    const isEarly = trueDays < (crossing.soonestDays ?? Infinity);
    const isLate = trueDays > (crossing.latestDays ?? Infinity);
    if (isEarly) early++;
    else if (isLate) late++;
    else inside++;
    if (crossing.middleDays !== null) errors.push(Math.abs(crossing.middleDays - trueDays));
  }
  const sorted = errors.toSorted((a, b) => a - b);
  return {
    inside,
    count,
    open,
    early,
    late,
    medianErrorDays: sorted[Math.floor(sorted.length / 2)] ?? Number.NaN,
    notFound,
  };
}

function trueLevel(array: Drawn["history"]["array"], dryOhms: Float64Array): Float64Array {
  const warmth = Math.exp((array.bulkEv / BOLTZMANN_EV) * (1 / 298.15 - 1 / 288.15));
  return dryOhms.map((ohms) => Math.log10((ohms / warmth) * array.instrument.gain));
}
