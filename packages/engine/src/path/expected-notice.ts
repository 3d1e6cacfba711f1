import type { Path } from "../assess/site.ts";
import { noticeFromSite, type NoticeAnswer, type NoticeModel, timeToNotice } from "../notice/index.ts";
import { pathCode } from "./codes.ts";
import type { PathContext } from "./context.ts";
import { figure, listed, type Remark } from "./judgement.ts";

const LATE_MEDIAN_HOURS = 36;
const LONG_TAIL_SHARE = 0.2;
/** Longest time to notice that is followed; later, or never, is given as this. */
const HORIZON_HOURS = 28 * 24;
/** Onsets of every eighth day reach every weekday and season: within 0.007 in probability of every day's … */
const EVERY_DAYS = 8;
/** … but not where the day changes fast with the season, or people are away for some weeks of the year. */
const EVERY_DAYS_CLOSELY = 2;
const FAR_LATITUDE_DEG = 55;

/** Whether the time to notice differs much from day to day of the year. */
export function changeableByDay({ latitudeDeg, readers }: NoticeModel): boolean {
  return Math.abs(latitudeDeg ?? 0) > FAR_LATITUDE_DEG || readers.some(({ away }) => away.length > 0);
}

const everyDays = (model: NoticeModel): number => (changeableByDay(model) ? EVERY_DAYS_CLOSELY : EVERY_DAYS);

/** `half of all faults are known within 12.1 h and 95 % within 30 h`, or that it takes longer than is followed. */
function shares({ medianHours, p95Hours }: NoticeAnswer): string {
  const longer = `more than ${HORIZON_HOURS / 24} days, if they ever are`;
  if (medianHours === null) return `half of all faults are known only after ${longer}`;
  const half = `half of all faults are known within ${figure(medianHours)} h`;
  return p95Hours === null
    ? `${half} and 95 % only after ${longer}`
    : `${half} and 95 % within ${figure(p95Hours)} h`;
}

/** A figure that lies beyond the time followed is given as its end, and `beyondHours` marks that it is no value. */
function expectedRemark(answer: NoticeAnswer): Remark {
  const text = `By this path alone ${shares(answer)}; ${figure(answer.unnoticedAfter24h * 100)} % are unnoticed after 24 h. Compare it with the record of drills.`;
  const figures = {
    medianNoticeHours: answer.medianHours ?? HORIZON_HOURS,
    p95NoticeHours: answer.p95Hours ?? HORIZON_HOURS,
    unnoticedAfter24h: answer.unnoticedAfter24h,
    ...(answer.medianHours === null || answer.p95Hours === null ? { beyondHours: HORIZON_HOURS } : {}),
  };
  return { code: "PATH_NOTICE_EXPECTED", text, figures };
}

/** Half of all faults noticed soon enough, and few still unnoticed after a week: what an alarm must give. */
export function servesAsAlarm({
  medianHours,
  unnoticedAfter7d,
}: Pick<NoticeAnswer, "medianHours" | "unnoticedAfter7d">): boolean {
  return medianHours !== null && medianHours <= LATE_MEDIAN_HOURS && unnoticedAfter7d <= LONG_TAIL_SHARE;
}

function verdictRemarks(answer: NoticeAnswer): readonly Remark[] {
  const { medianHours, unnoticedAfter7d } = answer;
  if (medianHours === null || medianHours > LATE_MEDIAN_HOURS) {
    const time = medianHours === null ? `${HORIZON_HOURS / 24} days` : `${figure(medianHours)} h`;
    const text = `Half of all faults go unnoticed for more than ${time} by this path, so it does not serve as an alarm. Mend the findings above, or add a recipient or a second signal.`;
    return [{ code: "PATH_NOTICE_LATE", text }];
  }
  if (unnoticedAfter7d <= LONG_TAIL_SHARE) return [];
  const text = `${figure(unnoticedAfter7d * 100)} % of all faults are still unnoticed after seven days by this path alone. Add a recipient or a second signal of another kind.`;
  return [{ code: "PATH_NOTICE_LONG_TAIL", text }];
}

/** What decides whether anybody is reached at all is not stated, so no figure can stand for it. */
function undecided(path: Path, remarks: readonly Remark[]): boolean {
  const unknown = new Set<string>([
    "PATH_INDICATOR_PLACE_UNKNOWN",
    "PATH_INDICATOR_PASSES_UNKNOWN",
    "PATH_LISTENER_UNKNOWN",
    "PATH_LOAD_SILENT",
    "PATH_LIGHT_UNKNOWN",
    "PATH_SERVES_NO_ARRAY",
  ]);
  return path.signal === "annunciator" && path.loop === undefined
    ? true
    : remarks.some((remark) => unknown.has(remark.code));
}

/**
 * The time to notice of one path by itself, and whether it is short enough, given what was already found about it.
 *
 * A signal found to fall short on site (too quiet, too far, too little voltage) is taken as never perceived. Where a
 * missing fact leaves the verdict open the figures are given but not judged.
 */
export function judgeNotice(path: Path, context: PathContext, found: readonly Remark[]): readonly Remark[] {
  if (undecided(path, found)) return [];
  const effects = new Set(found.map((remark) => pathCode(remark.code).effect));
  const { model, assumed } = noticeFromSite(context.site, {
    paths: [path],
    perceived: [{ path: path.id, perceived: !effects.has("falls-short") }],
    ...(context.onDate === undefined ? {} : { onDate: context.onDate }),
  });
  const answer = timeToNotice(model, { combinations: [[path.id]], everyDays: everyDays(model) })[0]!;
  const remarks: Remark[] = [expectedRemark(answer)];
  if (!effects.has("cannot-tell")) remarks.push(...verdictRemarks(answer));
  if (assumed.length > 0) {
    remarks.push({
      code: "PATH_NOTICE_ASSUMED",
      text: `The time to notice assumes, because the site file does not say, that ${listed(assumed)}. Where that is not so here, it is wrong: put the true values into the site file where it has a field for them.`,
    });
  }
  return remarks;
}
