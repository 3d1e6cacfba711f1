import { type Effects, referred } from "./dry-level.ts";
import type { Morning } from "./mornings.ts";
import { evidenceOhms } from "./ohms-text.ts";
import type { ReadHistory } from "./read-history.ts";
import { quantile } from "./statistics/quantile.ts";

/** Mornings of a kind that are kept: bounded, so that a new morning costs the same after twenty years. */
const KEPT = 60;
const LEAST_OF_KIND = 20;
const LEAST_OF_ALL = 40;
/** Width of the bands of dew margin that make kinds [K], and how many either side of zero. */
const BAND_K = 2.5;
const BANDS = 3;
/** One morning counts for at most this many spreads, and a spread is at least so many decades [design choice]. */
const MOST_SPREADS = 4;
const LEAST_SPREAD = 0.11;
/** Spreads that three mornings together, and the least of them, must lie below [design choice, bench/history-accuracy]. */
const THREE_TOGETHER = { weatherKnown: 9.5, otherwise: 10.4 } as const;
const EACH_OF_THREE = 2;
const NINETY_FIVE = 1.6448536269514722;

/** What has to be remembered of a history to judge the next morning; plain data, to be stored as it is. */
export interface FollowState extends Effects {
  /** Newest values of each kind of morning, referred [log10 Ω], oldest first. */
  readonly kinds: Readonly<Record<string, readonly number[]>>;
  /** How far the newest mornings lay below their kind, in spreads; at most three. */
  readonly below: readonly number[];
  readonly lastDay: number;
}

export interface FollowDecision {
  /** step: the level has fallen at once; low: one morning, not yet more; usual: nothing; not-judged: see the reason. */
  readonly sign: "step" | "low" | "usual" | "not-judged";
  /** How far below the middle of its kind, in spreads of that kind; null where not judged. */
  readonly spreadsBelow: number | null;
  readonly reason: string;
}

/** What to remember of a history that has been read. */
export function followState({ level, mornings }: ReadHistory): FollowState {
  const { decadesPerK, season } = level;
  const empty: FollowState = { decadesPerK, season, kinds: {}, below: [], lastDay: -Infinity };
  return mornings.reduce((state, morning) => followMorning(state, morning).state, empty);
}

/**
 * Judges one new morning against the newest of its kind, and remembers it. Time and memory do not grow with the history.
 *
 * A kind is what water was there: rain, a band of dew margin, or a day that was followed until it dried, which is judged
 * by its recovery. How far a morning lies below the middle of its kind counts in spreads of the kind, and a step is told
 * when three in a row lie low together. Mornings far below are not remembered as usual, so that a fault that stays is not
 * got used to.
 */
export function followMorning(
  state: FollowState,
  morning: Morning,
): { readonly state: FollowState; readonly decision: FollowDecision } {
  if (morning.day <= state.lastDay) {
    const reason = "This morning, or a later one, has been judged already.";
    return { state, decision: { sign: "not-judged", spreadsBelow: null, reason } };
  }
  const kind = kindOf(morning);
  const before = state.kinds[kind] ?? [];
  const value = referred(state, morning.recovered ?? morning.lowest, morning.day, morning.temperatureC);
  const remember = (values: readonly number[]): FollowState["kinds"] => ({
    ...state.kinds,
    [kind]: values.slice(-KEPT),
  });
  // A rare kind is judged among all mornings: a large step must not wait until that kind is known.
  const isKnown = before.length >= LEAST_OF_KIND;
  const peers = isKnown ? before : Object.values(state.kinds).flat();
  if (peers.length < LEAST_OF_ALL && !isKnown) {
    const reason = `${peers.length} mornings are too few to judge by.`;
    return {
      state: { ...state, kinds: remember([...before, value]), lastDay: morning.day },
      decision: { sign: "not-judged", spreadsBelow: null, reason },
    };
  }
  const middle = quantile(peers, 0.5);
  const spread = Math.max(LEAST_SPREAD, (middle - quantile(peers, 0.05)) / NINETY_FIVE);
  const spreadsBelow = Math.max(-1, Math.min(MOST_SPREADS, (middle - value) / spread));
  const below = [...state.below.slice(-2), spreadsBelow];
  const isFar = isKnown && spreadsBelow >= MOST_SPREADS;
  const figures = `${evidenceOhms(value)} against ${evidenceOhms(middle)} on mornings of its kind (${kind})`;
  return {
    state: {
      ...state,
      kinds: isFar ? state.kinds : remember([...before, value]),
      below,
      lastDay: morning.day,
    },
    decision: decide(below, morning.dewMarginK !== null, figures),
  };
}

function decide(below: readonly number[], weatherKnown: boolean, figures: string): FollowDecision {
  const spreadsBelow = below.at(-1)!;
  const together = below.reduce((sum, one) => sum + one, 0);
  const limit = weatherKnown ? THREE_TOGETHER.weatherKnown : THREE_TOGETHER.otherwise;
  if (below.length === 3 && together >= limit && Math.min(...below) >= EACH_OF_THREE)
    return {
      sign: "step",
      spreadsBelow,
      reason: `Three mornings in a row lie below what their weather explains; this one shows ${figures}.`,
    };
  if (spreadsBelow > 2)
    return {
      sign: "low",
      spreadsBelow,
      reason: `This morning shows ${figures}: more than is usual. The next ones will decide.`,
    };
  return { sign: "usual", spreadsBelow, reason: `This morning shows ${figures}: within what is usual.` };
}

function kindOf({ recovered, wetBy, dewMarginK }: Morning): string {
  if (recovered !== null) return "dried";
  if (wetBy === "rain") return "rain";
  if (dewMarginK === null) return "weather not known";
  const band = Math.max(-BANDS, Math.min(BANDS - 1, Math.floor(dewMarginK / BAND_K)));
  return `dew margin from ${band * BAND_K} K`;
}
