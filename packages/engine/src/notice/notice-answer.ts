import { COARSE_LAGS, HORIZON_MIN } from "./lags.ts";

const DAY = 1440;

/** How long from the birth of an earth fault until a person knows, averaged over a year of onsets. */
export interface NoticeAnswer {
  /** Channels that work together in this answer. */
  readonly channels: readonly string[];
  /** Hours since onset and the probability that nobody knows yet, falling, to 28 days. */
  readonly curve: readonly { readonly hours: number; readonly unnoticed: number }[];
  /** Hours by which half, and 95 %, of faults are known; null: later than 28 days, or never. */
  readonly medianHours: number | null;
  readonly p95Hours: number | null;
  readonly unnoticedAfter24h: number;
  readonly unnoticedAfter7d: number;
  /** Still unnoticed after 28 days. */
  readonly unnoticedAfter28d: number;
  /** Mean hours, each fault counted for at most 28 days. */
  readonly meanHours: number;
}

/** What rounding may leave between a survival and a level that it nears for ever: 5 % who never heed, and 95 % asked. */
const ROUNDING = 1e-9;

/** Hours at which the survival has fallen to a level and goes on below, by linear interpolation; null where it does not. */
function reaches(survival: Float64Array, level: number): number | null {
  if (survival[0]! <= level) return 0;
  for (let k = 1; k < survival.length; k++) {
    const above = survival[k - 1]!;
    const below = survival[k]!;
    if (below > level - ROUNDING) continue;
    const part = (above - level) / (above - below);
    return (COARSE_LAGS[k - 1]! + part * (COARSE_LAGS[k]! - COARSE_LAGS[k - 1]!)) / 60;
  }
  return null;
}

/** Survival of all faults gathered, as a probability; it falls, and is 1 where nobody can know, but for rounding. */
export function falling(survival: Float64Array, total: number): Float64Array {
  let least = 1;
  return survival.map((gathered) => {
    const unnoticed = gathered / total;
    if (unnoticed < 1 - ROUNDING) least = Math.max(0, Math.min(least, unnoticed));
    return least;
  });
}

function unnoticedAt(survival: Float64Array, minutes: number): number {
  return survival[COARSE_LAGS.indexOf(minutes)]!;
}

/** The figures of one combination of channels from its survival at the coarse lags. */
export function answerOf(channels: readonly string[], survival: Float64Array): NoticeAnswer {
  let mean = 0;
  for (let k = 1; k < survival.length; k++) {
    mean += ((COARSE_LAGS[k]! - COARSE_LAGS[k - 1]!) * (survival[k]! + survival[k - 1]!)) / 120;
  }
  return {
    channels,
    curve: Array.from(survival, (unnoticed, k) => ({ hours: COARSE_LAGS[k]! / 60, unnoticed })),
    medianHours: reaches(survival, 0.5),
    p95Hours: reaches(survival, 0.05),
    unnoticedAfter24h: unnoticedAt(survival, DAY),
    unnoticedAfter7d: unnoticedAt(survival, 7 * DAY),
    unnoticedAfter28d: unnoticedAt(survival, HORIZON_MIN),
    meanHours: mean,
  };
}
