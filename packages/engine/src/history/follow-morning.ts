import { type Effects, referred } from "./dry-level.ts";
import { AT_FIRST, type Lately, latelyAfter } from "./lately.ts";
import { leakOdds, oddsTogether } from "./leak-odds.ts";
import { likeMornings, type Remembered } from "./like-mornings.ts";
import type { Morning } from "./mornings.ts";
import { evidenceOhms } from "./ohms-text.ts";
import type { ReadHistory } from "./read-history.ts";
import { quantile } from "./statistics/quantile.ts";

/** What is known of the water of a morning: its drying was followed, the weather is noted, or nothing. */
type Kind = "followed" | "weather known" | "weather not known";

interface Rule {
  /** Mornings that are kept: bounded, so that a new one costs the same after twenty years. */
  readonly kept: number;
  /** Mornings below which none is judged. */
  readonly least: number;
  readonly halfLifeDays: number;
  /** Within which readings count as the same [decades]: the check, or the day's highest, first and last. */
  readonly widths: readonly number[];
  /** ln odds from which one morning is told as low, and is not remembered as usual. */
  readonly low: number;
  /** ln odds that two or three mornings must come to together: the less is known of the water, the more. */
  readonly together: number;
}

/** Design choices, set on other seeds than those of bench/history-accuracy. */
const RULES: Readonly<Record<Kind, Rule>> = {
  followed: { kept: 120, least: 30, halfLifeDays: 90, widths: [0.07, 0.12, 0.12], low: 1.6, together: 3.5 },
  "weather known": { kept: 400, least: 30, halfLifeDays: Infinity, widths: [0.06], low: 1.6, together: 2.5 },
  "weather not known": {
    kept: 400,
    least: 120,
    halfLifeDays: Infinity,
    widths: [0.08],
    low: 3,
    together: 7.5,
  },
};

/** What has to be remembered of a history to judge the next morning; plain data, to be stored as it is. */
export interface FollowState extends Effects {
  /** Dry level of the history that was read, log10 Ω; null where it had none. */
  readonly dry: number | null;
  /** Newest usual mornings of each kind, oldest first. */
  readonly past: Readonly<Partial<Record<Kind, readonly Remembered[]>>>;
  readonly lately: Lately;
  /** ln odds of the newest mornings, for each factor; at most three. */
  readonly odds: readonly (readonly number[])[];
  readonly lastDay: number;
}

export interface FollowDecision {
  /** step: the level has fallen at once; low: one morning, not yet more; usual: nothing; not-judged: see the reason. */
  readonly sign: "step" | "low" | "usual" | "not-judged";
  /** ln of how much likelier the newest two or three mornings are after a step than before; null where not judged. */
  readonly lnOdds: number | null;
  readonly reason: string;
}

interface Followed {
  readonly state: FollowState;
  readonly decision: FollowDecision;
}

/** What to remember of a history that has been read. */
export function followState({ level, mornings }: ReadHistory): FollowState {
  const { decadesPerK, season, weeks } = level;
  const newest = weeks.slice(-8).map(({ value }) => value);
  const dry = newest.length === 0 ? null : quantile(newest, 0.5);
  const empty: FollowState = {
    decadesPerK,
    season,
    dry,
    past: {},
    lately: AT_FIRST,
    odds: [],
    lastDay: -Infinity,
  };
  return mornings.reduce((state, morning) => followMorning(state, morning).state, empty);
}

/**
 * Judges one new morning against past ones with like water, and remembers it. Time and memory do not grow with the history.
 *
 * Past mornings tell how the array reads as it was; each with a leak added tells how it would read after a step. A step is
 * told when two or three mornings in a row are together much likelier after one and the same. Mornings that are likelier
 * after a step are not remembered as usual, so that a fault that stays is not got used to.
 * Accuracy: bench/results/history-accuracy.md
 */
export function followMorning(state: FollowState, morning: Morning): Followed {
  if (morning.day <= state.lastDay)
    return notJudged(state, "This morning, or a later one, has been judged already.");
  const kind = kindOf(morning);
  const past = state.past[kind] ?? [];
  const { least, halfLifeDays, widths, low } = RULES[kind];
  const { now, shift } = referredMorning(state, morning);
  if (past.length < least)
    return notJudged(
      { ...state, past: remember(state, kind, now), lastDay: morning.day },
      `${past.length} mornings with as much known of the weather are too few to judge by.`,
    );
  const like = likeMornings(now, past, halfLifeDays);
  const dry =
    state.dry ??
    quantile(
      past.map(({ values }) => values[0]!),
      0.75,
    );
  const mine = leakOdds({ values: now.values, shift, lately: state.lately.decades, dry, widths }, like);
  const odds = [...state.odds.slice(-2), mine];
  const isUsual = oddsTogether([mine]) < low;
  return {
    state: {
      ...state,
      past: isUsual ? remember(state, kind, now) : state.past,
      lately: isUsual ? latelyAfter(state.lately, now.values[0]!, like) : state.lately,
      odds,
      lastDay: morning.day,
    },
    decision: decide(odds, isUsual, { kind, value: now.values[0]!, past }),
  };
}

function notJudged(state: FollowState, reason: string): Followed {
  return { state, decision: { sign: "not-judged", lnOdds: null, reason } };
}

function decide(
  odds: FollowState["odds"],
  isUsual: boolean,
  {
    kind,
    value,
    past,
  }: { readonly kind: Kind; readonly value: number; readonly past: readonly Remembered[] },
): FollowDecision {
  // One morning alone is not a step: a contact that movement makes falls as deep and is gone the next day.
  const lnOdds = Math.max(oddsTogether(odds.slice(-2)), oddsTogether(odds.slice(-3)));
  const middle = quantile(
    past.map(({ values }) => values[0]!),
    0.5,
  );
  const figures = `${evidenceOhms(value)} against ${evidenceOhms(middle)} in the middle of the newest ${past.length} (${kind})`;
  if (odds.length > 1 && lnOdds >= RULES[kind].together)
    return {
      sign: "step",
      lnOdds,
      reason: `The newest mornings read as after a step rather than as their water explains; this one shows ${figures}.`,
    };
  if (!isUsual)
    return {
      sign: "low",
      lnOdds,
      reason: `This morning shows ${figures}: lower than its water explains. The next ones will decide.`,
    };
  return { sign: "usual", lnOdds, reason: `This morning shows ${figures}: within what is usual.` };
}

function kindOf({ profile, depressionK }: Morning): Kind {
  if (profile !== null) return "followed";
  return depressionK === null ? "weather not known" : "weather known";
}

function remember(state: FollowState, kind: Kind, now: Remembered): FollowState["past"] {
  const freed = { ...now, values: now.values.map((value) => value - state.lately.decades) };
  return { ...state.past, [kind]: [...(state.past[kind] ?? []), freed].slice(-RULES[kind].kept) };
}

function referredMorning(
  effects: Effects,
  { day, lowest, profile, temperatureC, depressionK, irradianceWm2, wetBy }: Morning,
): { readonly now: Remembered; readonly shift: number } {
  const measured = profile === null ? [lowest] : [profile.highest, profile.first, profile.last];
  const values = measured.map((value) => referred(effects, value, day, temperatureC));
  const now = { day, values, depressionK, irradianceWm2, rain: wetBy === "rain" };
  return { now, shift: measured[0]! - values[0]! };
}
