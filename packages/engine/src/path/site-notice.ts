import type { Site } from "../assess/site.ts";
import {
  type DelayShare,
  delayCauses,
  type NoticeAnswer,
  type NoticeModel,
  noticeFromSite,
  type NoticeOptions,
  type SingleChange,
  singleChanges,
  timeToNotice,
} from "../notice/index.ts";
import type { Sourced } from "../provenance.ts";
import { pathCode } from "./codes.ts";
import { changeableByDay } from "./expected-notice.ts";
import type { PathContext } from "./context.ts";
import type { Remark } from "./judgement.ts";
import { judgeSignal } from "./judge-signal.ts";

/** The time to notice of a whole site: path by path, together, and what would shorten it. */
export interface SiteNotice {
  /** Each path alone, in the order of the site file, then all together where there are several. */
  readonly answers: readonly NoticeAnswer[];
  /** Paths whose signal was found not to reach anybody (too quiet, too far, too little voltage). */
  readonly notPerceived: readonly string[];
  /** What delays the news in each answer, largest first; the last is by all paths together. */
  readonly causes: readonly (readonly DelayShare[])[];
  /** Single changes, the one that gains most hours first. */
  readonly changes: readonly SingleChange[];
  /** Values that the site file does not state, in plain words. */
  readonly assumed: readonly string[];
  /** The same, each with where its value comes from. */
  readonly assumptions: readonly Sourced<string>[];
  readonly model: NoticeModel;
}

/**
 * Days between those followed to compare: what one cause costs, or one change gains, is a difference over the same days, so
 * that fewer will do. More where the days of the year differ much.
 */
const COMPARED_EVERY_DAYS = 9;
const COMPARED_CLOSELY = 4;

/** Options to compare by: those given, or fewer days of the year than for the times themselves. */
function comparing(model: NoticeModel, options: NoticeOptions): NoticeOptions {
  const few = changeableByDay(model) ? COMPARED_CLOSELY : COMPARED_EVERY_DAYS;
  return { ...options, everyDays: options.everyDays ?? few };
}

const fallsShort = (remarks: readonly Remark[]): boolean =>
  remarks.some((remark) => pathCode(remark.code).effect === "falls-short");

/**
 * Time to notice of a site by each of its paths and by all of them, with causes of delay and single changes ranked.
 *
 * A path whose signal falls short on site counts as never perceived; a message counts by its recipients as they are.
 * @param context.onDate  first day of the year of onsets; without it absences on record are left out
 */
export function siteNotice(
  site: Site,
  context: Omit<PathContext, "site"> = {},
  options: NoticeOptions = {},
): SiteNotice {
  const notPerceived = site.paths
    .filter((path) => path.signal !== "message" && fallsShort(judgeSignal(path, { site, ...context })))
    .map(({ id }) => id);
  const { model, assumed, assumptions } = noticeFromSite(site, {
    paths: site.paths,
    ...context,
    perceived: notPerceived.map((path) => ({ path, perceived: false })),
  });
  const answers = timeToNotice(model, options);
  const combinations = answers.map(({ channels }) => channels);
  return {
    answers,
    notPerceived,
    causes: delayCauses(model, { ...comparing(model, options), combinations }),
    changes: singleChanges(model, comparing(model, options)),
    assumed,
    assumptions,
    model,
  };
}
