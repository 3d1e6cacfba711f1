import type { AdviceAnswers, QuestionId } from "./answers.ts";
import { ADVICE_QUESTIONS } from "./questions.ts";
import { TRIAL_ANSWERS } from "./trial-answers.ts";

/** What an advice comes to, as far as an answer can change it. */
export interface Upshot {
  readonly alarm: string;
  /** Signals of the best plan; empty where none is possible. */
  readonly best: string;
  readonly meanHours: number;
}

/** An unanswered question and how much usual answers to it change. */
export interface OpenQuestion {
  readonly question: QuestionId;
  /** Different duties, and different best plans, that usual answers lead to. */
  readonly duties: number;
  readonly plans: number;
  /** Spread of the mean hours until a fault is noticed by the best plan. */
  readonly hoursApart: number;
}

function answered(answers: AdviceAnswers, id: QuestionId, at: number): AdviceAnswers {
  return { ...answers, [id]: TRIAL_ANSWERS[id][at] };
}

/** Most first: what may turn the duty, then the plan, then the time; else in the order of asking. */
function worth(a: OpenQuestion, b: OpenQuestion): number {
  return b.duties - a.duties || b.plans - a.plans || b.hoursApart - a.hoursApart;
}

/**
 * The unanswered questions, the one most worth asking first.
 *
 * Each is given its usual answers in turn while the other open ones hold their most usual answer; what counts is how many
 * different duties and best plans come out. Place comes before all: without it no rule can be looked up.
 */
export function openQuestions(
  answers: AdviceAnswers,
  upshotOf: (answers: AdviceAnswers) => Upshot,
): readonly OpenQuestion[] {
  const open = ADVICE_QUESTIONS.map(({ id }) => id).filter((id) => answers[id] === undefined);
  const base = open.reduce((filled, id) => answered(filled, id, 0), answers);
  const usual = upshotOf(base);
  const tried = open.map((question): OpenQuestion => {
    const others = TRIAL_ANSWERS[question].slice(1).map((_, i) => upshotOf(answered(base, question, i + 1)));
    const all = [usual, ...others];
    const hours = all.map(({ meanHours }) => meanHours);
    return {
      question,
      duties: new Set(all.map(({ alarm }) => alarm)).size,
      plans: new Set(all.map(({ best }) => best)).size,
      hoursApart: Math.max(...hours) - Math.min(...hours),
    };
  });
  const ranked = [...tried].sort(worth);
  return [
    ...ranked.filter(({ question }) => question === "place"),
    ...ranked.filter(({ question }) => question !== "place"),
  ];
}
