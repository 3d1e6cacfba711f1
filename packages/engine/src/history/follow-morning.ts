import { type Effects, referred } from "./dry-level.ts";
import { evidenceOhms } from "./ohms-text.ts";
import type { Morning, Wetness } from "./mornings.ts";
import type { ReadHistory } from "./read-history.ts";
import { quantile, quantileOfSorted, sortedCopy } from "./statistics/quantile.ts";

/** Dry mornings that make the level: bounded, so that a new morning costs the same after twenty years. */
const KEPT = 40;
/** Mornings that must be low among the newest three [design choice]. */
const LOW_OF_THREE = 2;
/** How far below what its wetness explains a morning counts: a factor of 2.2, or four spreads [design choice]. */
const LEAST_EXCESS = 0.35;
const SPREADS = 4;
/** What a wet morning may lose where the history has too few to say: a factor of 10 [memory]. */
const USUAL_WET_DEPTH = 1;
const LEAST_OF_KIND = 10;

/** What has to be remembered of a history to judge the next morning; plain data, to be stored as it is. */
export interface FollowState extends Effects {
  /** Newest dry values, referred [log10 Ω], oldest first. */
  readonly dry: readonly number[];
  /** Deficit that one morning in forty exceeds, by wetness [decades]. */
  readonly allowance: Readonly<Record<Wetness, number>>;
  /** Whether the newest mornings were low; at most three. */
  readonly low: readonly boolean[];
  readonly lastDay: number;
}

export interface FollowDecision {
  /** step: the level has fallen at once; low: one morning, not yet more; usual: nothing; not-judged: see the reason. */
  readonly sign: "step" | "low" | "usual" | "not-judged";
  /** How far below what wetness explains [decades]; null where not judged. */
  readonly excess: number | null;
  readonly reason: string;
}

/** What to remember of a history that has been read. */
export function followState({ level, signs }: ReadHistory): FollowState {
  const of = (wetness: Wetness): number => {
    const deficits = (signs?.standings ?? [])
      .filter(({ morning }) => morning.wetness === wetness)
      .map(({ deficit }) => deficit);
    if (deficits.length < LEAST_OF_KIND) return wetness === "dry" ? 0.1 : USUAL_WET_DEPTH;
    return Math.max(0, quantile(deficits, 0.975));
  };
  return {
    decadesPerK: level.decadesPerK,
    season: level.season,
    dry: level.weeks.slice(-KEPT).length === 0 ? [] : level.readings.slice(-KEPT).map(({ value }) => value),
    allowance: { wet: of("wet"), dry: of("dry"), unknown: of("unknown") },
    low: [],
    lastDay: signs?.standings.at(-1)?.morning.day ?? -Infinity,
  };
}

/**
 * Judges one new morning against what is remembered, and remembers it. Time and memory do not grow with the history.
 *
 * A morning that recovered is judged by its recovery, since that is the dry array. A step is told when two of the newest
 * three mornings lie further below the dry level than their wetness explains. Low mornings do not move the level they are
 * judged by, so that a fault that stays is not got used to.
 */
export function followMorning(
  state: FollowState,
  morning: Morning,
): { readonly state: FollowState; readonly decision: FollowDecision } {
  if (morning.day <= state.lastDay)
    return { state, decision: notJudged("This morning, or a later one, has been judged already.") };
  if (state.dry.length < LEAST_OF_KIND)
    return remember(
      state,
      morning,
      null,
      notJudged(`${state.dry.length} dry mornings are too few to judge by.`),
    );
  const sorted = sortedCopy(state.dry);
  const middle = quantileOfSorted(sorted, 0.5);
  const spread = (quantileOfSorted(sorted, 0.75) - quantileOfSorted(sorted, 0.25)) / 1.349;
  const dried = morning.recovered !== null;
  const value = referred(state, morning.recovered ?? morning.lowest, morning.day, morning.temperatureC);
  const allowed = dried ? Math.min(state.allowance.dry, 0.15) : state.allowance[morning.wetness];
  const excess = middle - value - allowed;
  const limit = Math.max(LEAST_EXCESS, SPREADS * Math.min(spread, 0.2));
  const isLow = excess > limit;
  const low = [...state.low.slice(-2), isLow];
  const step = low.filter(Boolean).length >= LOW_OF_THREE;
  const figures = `${evidenceOhms(value)} against a dry level of ${evidenceOhms(middle)}`;
  const wet = dried ? "after it dried" : morning.wetness === "unknown" ? "wet or dry" : morning.wetness;
  const reason = step
    ? `${low.filter(Boolean).length} of the newest ${low.length} mornings lie below what weather explains, this one at ${figures}, ${wet}.`
    : isLow
      ? `One morning at ${figures}, ${wet}: more than weather explains; another will decide.`
      : `${figures}, ${wet}: within what this array has shown.`;
  const sign = step ? "step" : isLow ? "low" : "usual";
  return remember(state, morning, isLow ? null : value, { sign, excess, reason }, low);
}

function notJudged(reason: string): FollowDecision {
  return { sign: "not-judged", excess: null, reason };
}

function remember(
  state: FollowState,
  morning: Morning,
  value: number | null,
  decision: FollowDecision,
  low: readonly boolean[] = state.low,
): { readonly state: FollowState; readonly decision: FollowDecision } {
  const isDry = morning.recovered !== null || morning.wetness === "dry";
  const usable =
    value ??
    (state.dry.length < LEAST_OF_KIND
      ? referred(state, morning.recovered ?? morning.lowest, morning.day, morning.temperatureC)
      : null);
  const dry = isDry && usable !== null ? [...state.dry, usable].slice(-KEPT) : state.dry;
  return { state: { ...state, dry, low, lastDay: morning.day }, decision };
}
