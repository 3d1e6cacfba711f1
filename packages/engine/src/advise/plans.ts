import type { Path } from "../assess/site.ts";
import { type NoticeAnswer, noticeFromSite, timeToNotice } from "../notice/index.ts";
import { servesAsAlarm } from "../path/expected-notice.ts";
import type { Sourced } from "../provenance.ts";
import type { AdviceAnswers } from "./answers.ts";
import { type Effort, effortOfPlan, tenYearHours } from "./effort.ts";
import { linkAssumption, siteAsPlanned } from "./planned-site.ts";

type Signal = Path["signal"];

/** Signals built together, how soon they would be noticed and what they cost. */
export interface Plan {
  readonly signals: readonly Signal[];
  readonly notice: NoticeAnswer;
  readonly effort: Sourced<Effort>;
  /** Notices soon enough to be called an alarm, by the same limits as a built path is judged by. */
  readonly serves: boolean;
  /** The rule accepts one of its signals; true where no rule says which. */
  readonly accepted: boolean;
}

/** Every set of some things, the smaller first. */
function subsets<Thing>(things: readonly Thing[]): readonly (readonly Thing[])[] {
  const all = things.reduce<readonly (readonly Thing[])[]>(
    (sets, thing) => [...sets, ...sets.map((set) => [...set, thing])],
    [[]],
  );
  return all.filter((set) => set.length > 0).sort((a, b) => a.length - b.length);
}

/** Shares unnoticed after a day that lie less than this above the least count as alike [design choice]. */
const BAND = 0.05;

/** Accepted and soon enough first; then the less left unnoticed after a day; among like, the less work in ten years. */
function ranked(plans: readonly Plan[]): readonly Plan[] {
  const least = Math.min(...plans.map(({ notice }) => notice.unnoticedAfter24h));
  const band = ({ notice }: Plan): number => Math.floor((notice.unnoticedAfter24h - least) / BAND);
  return [...plans].sort(
    (a, b) =>
      Number(b.accepted) - Number(a.accepted) ||
      Number(b.serves) - Number(a.serves) ||
      band(a) - band(b) ||
      tenYearHours(a.effort.value) - tenYearHours(b.effort.value) ||
      a.notice.meanHours - b.notice.meanHours,
  );
}

export interface RankedPlans {
  readonly plans: readonly Plan[];
  readonly assumptions: readonly Sourced<string>[];
}

/**
 * Every combination of the signals that are possible at a site, the best first.
 *
 * A plan is taken to be built as advised: addresses recorded, loop fail-safe and audible, owner told.
 * @param accepted  signals that the rule accepts; null where none says
 */
export function rankedPlans(
  answers: AdviceAnswers,
  possible: readonly Signal[],
  accepted: readonly Signal[] | null,
  everyDays: number,
): RankedPlans {
  if (possible.length === 0) return { plans: [], assumptions: [] };
  const site = siteAsPlanned(answers, possible);
  const { model, assumptions } = noticeFromSite(site, { paths: site.paths });
  const sets = subsets(possible);
  const idOf = (signal: Signal): string => site.paths.find((path) => path.signal === signal)!.id;
  const found = timeToNotice(model, { combinations: sets.map((set) => set.map(idOf)), everyDays });
  const plans = sets.map((signals, i): Plan => {
    const notice = { ...found[i]!, channels: signals };
    return {
      signals,
      notice,
      effort: effortOfPlan(signals, answers),
      serves: servesAsAlarm(notice),
      accepted: accepted === null || signals.some((signal) => accepted.includes(signal)),
    };
  });
  const link = possible.includes("message") ? linkAssumption(answers) : null;
  return {
    plans: ranked(plans),
    assumptions: [...(link === null ? [] : [link]), ...assumptions],
  };
}
