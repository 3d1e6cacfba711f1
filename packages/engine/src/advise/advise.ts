import type { ArrayAssessment, Reason } from "../assess/assessment.ts";
import { assessArray } from "../assess/assess-array.ts";
import type { Path } from "../assess/site.ts";
import { HORIZON_MIN } from "../notice/lags.ts";
import { STANDING_ASSUMPTIONS } from "../notice/standing-assumptions.ts";
import type { Sourced } from "../provenance.ts";
import { packsWith } from "../rules/built-in-packs.ts";
import type { RulePack } from "../rules/pack.ts";
import { cautionsFor } from "../safety/index.ts";
import type { AdviceAnswers, QuestionId } from "./answers.ts";
import { END_TO_END, type Instructions, instructionsFor, TELL_OWNER } from "./instructions.ts";
import { type OpenQuestion, openQuestions, type Upshot } from "./next-question.ts";
import { adviceSite, lacking } from "./planned-site.ts";
import { type Plan, rankedPlans } from "./plans.ts";
import { type PossibleSignal, possibleSignals } from "./possible-signals.ts";

export type AdvisedPlan = Plan;

/** What to do about the alarm of one site, from what is known of it, in the format `earthbell.advised/1`. */
export interface Advice {
  readonly format: "earthbell.advised/1";
  readonly site: string | null;
  /** Duty, voltage and limits of the array; null while an essential answer is missing. */
  readonly array: ArrayAssessment | null;
  readonly duty: {
    readonly alarm: ArrayAssessment["duty"]["alarm"];
    readonly reasons: readonly Reason[];
    /** Answers, fields of a site file or documents that would settle it. */
    readonly missing: readonly string[];
  };
  /** Combinations of signals that are possible here, the best first. */
  readonly plans: readonly Plan[];
  /** Signals that are not in any plan, and why; `unknown` is not a no. */
  readonly notPlanned: readonly PossibleSignal[];
  /** To be read before any test. */
  readonly cautions: readonly Reason[];
  /** The test of every signal, from the detector to the person. */
  readonly endToEnd: Sourced<string>;
  /** For the first plan. */
  readonly instructions: readonly Instructions[];
  readonly tellOwner: readonly Sourced<string>[];
  /** What is undecided, and the answers it waits for. */
  readonly undecided: readonly { readonly decision: string; readonly waitsFor: readonly string[] }[];
  /** Unanswered questions, the one most worth asking first. */
  readonly open: readonly OpenQuestion[];
  readonly next: QuestionId | null;
  readonly assumed: readonly Reason[];
}

export interface AdviseOptions {
  /** Onsets of every n-th day of the year; default 8, which is within 0.007 in probability at moderate latitudes. */
  readonly everyDays?: number;
}

const EVERY_DAYS = 8;
/** What hangs on a question is told by differences of days, for which fewer days will do. */
const TRIAL_EVERY_DAYS = 29;
/** Nobody is told: each fault counts for as long as the time to notice follows it. */
const FOLLOWED_HOURS = HORIZON_MIN / 60;

interface Considered {
  readonly array: ArrayAssessment | null;
  readonly signals: readonly PossibleSignal[];
  readonly plans: readonly Plan[];
  readonly assumptions: readonly Sourced<string>[];
}

function consider(answers: AdviceAnswers, packs: readonly RulePack[], everyDays: number): Considered {
  const site = adviceSite(answers, []);
  const array = site === null ? null : assessArray(site.arrays[0]!, site, packs);
  const signals = possibleSignals(answers);
  const possible = signals.filter(({ state }) => state === "possible").map(({ signal }) => signal);
  const { plans, assumptions } = rankedPlans(answers, possible, acceptedBy(array, packs), everyDays);
  return { array, signals, plans, assumptions };
}

/** Signals that the pack which requires the alarm accepts. */
function acceptedBy(
  array: ArrayAssessment | null,
  packs: readonly RulePack[],
): readonly Path["signal"][] | null {
  if (array?.duty.alarm !== "required") return null;
  return packs.find(({ id }) => id === array.duty.rulePack)?.alarm?.signals.value ?? null;
}

function upshot({ array, plans }: Considered): Upshot {
  const [best] = plans;
  return {
    alarm: array?.duty.alarm ?? "undecided",
    best: best?.signals.join("+") ?? "",
    meanHours: best?.notice.meanHours ?? FOLLOWED_HOURS,
  };
}

function dutyOf(array: ArrayAssessment | null, missing: readonly QuestionId[]): Advice["duty"] {
  if (array === null) return { alarm: "undecided", reasons: [], missing };
  const { alarm, reasons, missing: fields } = array.duty;
  return { alarm, reasons, missing: fields };
}

function undecided(duty: Advice["duty"], signals: readonly PossibleSignal[]): Advice["undecided"] {
  return [
    ...(duty.alarm === "undecided"
      ? [{ decision: "whether an alarm is required", waitsFor: duty.missing }]
      : []),
    ...signals
      .filter(({ state }) => state === "unknown")
      .map(({ signal, open }) => ({ decision: `whether the signal ${signal} is possible`, waitsFor: open })),
  ];
}

const reason = ({ value, source, tag }: Sourced<string>): Reason => ({ text: value, source, tag });

/**
 * Whether an alarm is due at a site, which paths are possible and which is best, from about ten answers of an installer.
 *
 * Works with any of the answers missing: what hangs on them is undecided and named, and the open question that may
 * change most stands first. Time to notice is that of a plan built as advised; costs are rough ranges in hours and visits.
 * The advice is for licensed people; the local code and the standard come first.
 *
 * @param own  rule packs of the user, as in assessSite
 * Accuracy and check of the times: see timeToNotice
 */
export function advise(
  answers: AdviceAnswers,
  own: readonly RulePack[] = [],
  { everyDays = EVERY_DAYS }: AdviseOptions = {},
): Advice {
  const packs = packsWith(own);
  const { array, signals, plans, assumptions } = consider(answers, packs, everyDays);
  const duty = dutyOf(array, lacking(answers));
  const open = openQuestions(answers, (tried) => upshot(consider(tried, packs, TRIAL_EVERY_DAYS)));
  return {
    format: "earthbell.advised/1",
    site: answers.id ?? null,
    array,
    duty,
    plans,
    notPlanned: signals.filter(({ state }) => state !== "possible"),
    cautions: cautionsFor("prove-alarm").map(({ text, source, tag }) => ({ text, source, tag })),
    endToEnd: END_TO_END,
    instructions: plans[0] === undefined ? [] : instructionsFor(plans[0].signals, answers),
    tellOwner: TELL_OWNER,
    undecided: undecided(duty, signals),
    open,
    next: open[0]?.question ?? null,
    assumed: plans.length === 0 ? [] : [...assumptions, ...STANDING_ASSUMPTIONS].map(reason),
  };
}
