export { type Advice, advise, type AdvisedPlan, type AdviseOptions } from "./advise.ts";
export type { AdviceAnswers, Network, QuestionId } from "./answers.ts";
export type { Effort } from "./effort.ts";
export { adviceSite } from "./planned-site.ts";
export { ADVICE_QUESTIONS, type AdviceQuestion } from "./questions.ts";
