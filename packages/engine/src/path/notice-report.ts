import type { Site } from "../assess/site.ts";
import { type DelayShare, type NoticeAnswer, type NoticeOptions } from "../notice/index.ts";
import { HORIZON_MIN } from "../notice/lags.ts";
import { STANDING_ASSUMPTIONS } from "../notice/standing-assumptions.ts";
import type { Reason } from "../assess/assessment.ts";
import { siteNotice } from "./site-notice.ts";

/** The time to notice of one path, or of all paths of a site together. */
export interface NoticeOfPaths {
  readonly paths: readonly string[];
  /** Hours by which half, and 95 %, of faults are known; null: later than `followedDays`, or never. */
  readonly medianHours: number | null;
  readonly p95Hours: number | null;
  readonly unnoticedAfter24h: number;
  readonly unnoticedAfter7d: number;
  readonly unnoticedAfter28d: number;
  /** Mean hours, each fault counted for at most `followedDays`. */
  readonly meanHours: number;
  /** What holds up the news most, by these paths alone; null where taking a cause away gains nothing. */
  readonly biggestCause: DelayShare | null;
  readonly curve: NoticeAnswer["curve"];
}

/** The time to notice of a site in the format `earthbell.notice/1` (units in the names, probabilities from 0 to 1). */
export interface NoticeReport {
  readonly format: "earthbell.notice/1";
  readonly site: string;
  /** First day of the year of onsets; null: none was given, and absences on record are left out. */
  readonly onDate: string | null;
  readonly followedDays: number;
  /** Each path alone, then all together where there are several. */
  readonly answers: readonly NoticeOfPaths[];
  /** Paths whose signal was found not to reach anybody. */
  readonly notPerceived: readonly string[];
  /** All paths working together: what each cause of delay costs, and what each single change gains, largest first. */
  readonly causes: readonly DelayShare[];
  readonly changes: readonly {
    readonly kind: string;
    readonly text: string;
    readonly gainedHours: number;
    readonly medianHoursAfter: number | null;
    readonly p95HoursAfter: number | null;
  }[];
  /** What the site file does not state, then what no site file states. */
  readonly assumed: readonly Reason[];
}

/**
 * The time to notice of a site, path by path and together, with what delays it, what would shorten it and what it rests on.
 *
 * @param onDate  first day of the year of onsets, YYYY-MM-DD
 * Accuracy and check: see timeToNotice
 */
export function noticeReport(site: Site, onDate?: string, options: NoticeOptions = {}): NoticeReport {
  const found = siteNotice(site, onDate === undefined ? {} : { onDate }, options);
  const { answers, causes, changes, assumptions } = found;
  const biggestCause = (answer: number): DelayShare | null => {
    const first = causes[answer]?.[0];
    return first !== undefined && first.hours > 0 ? first : null;
  };
  return {
    format: "earthbell.notice/1",
    site: site.id,
    onDate: onDate ?? null,
    followedDays: HORIZON_MIN / 1440,
    answers: answers.map(({ channels, ...figures }, i) => ({
      paths: channels,
      ...figures,
      biggestCause: biggestCause(i),
    })),
    notPerceived: found.notPerceived,
    causes: causes.at(-1) ?? [],
    changes: changes.map(({ kind, words, gainedHours, after }) => ({
      kind,
      text: words,
      gainedHours,
      medianHoursAfter: after.medianHours,
      p95HoursAfter: after.p95Hours,
    })),
    assumed: [...assumptions, ...STANDING_ASSUMPTIONS].map(({ value, source, tag }) => ({
      text: value,
      source,
      tag,
    })),
  };
}
