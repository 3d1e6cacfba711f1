import type { Headline } from "../headline.ts";
import { dateOfDay } from "../local-day.ts";
import type { HistoryFinding } from "../read-history.ts";

/** That an array is worth going to for its insulation history: why, and by when. */
export interface DueVisit {
  readonly why: string;
  /** A day, or words where no day can be told. */
  readonly by: string;
}

/** An array is gone to when it is as likely as not to reach its threshold within a year [design choice]. */
const LIKELY = 0.5;
const DAY_MS = 86_400_000;

/** What the ranking of a fleet knows of an array. */
export interface VisitGrounds {
  readonly headline: Headline;
  /** Chance to reach the threshold within a year; null where no threshold is known. */
  readonly withinYear: number | null;
  readonly reason: string;
}

/**
 * Whether an array is worth a visit. It is when it has been below its threshold of late, when its detector cannot be believed,
 * and when it is likely to reach the threshold within a year; then by the earliest day of the forecast, not its middle.
 *
 * @returns null: it can wait
 * Source: Earthbell (design choice)
 */
export function dueVisit(
  { verdict, to, forecast }: Pick<HistoryFinding, "verdict" | "to" | "forecast">,
  { headline, withinYear, reason }: VisitGrounds,
): DueVisit | null {
  const { reached, below, pattern } = headline;
  if (below !== null)
    return { why: `${below} History: ${pattern}.`, by: reached === "newest" ? "now" : "the next visit" };
  const why = `${pattern.charAt(0).toUpperCase()}${pattern.slice(1)}. ${reason}`;
  if (verdict === "sensor") return { why, by: "the next visit" };
  if (to === null || withinYear === null || withinYear < LIKELY) return null;
  const crossings = [forecast?.dry, forecast?.wet];
  const days = crossings.flatMap((one) => one?.soonestDays ?? one?.middleDays ?? []);
  if (days.length === 0) return { why, by: "the next visit" };
  return { why, by: dateOfDay(Date.parse(to) / DAY_MS + Math.floor(Math.min(...days))) };
}
