import type { WeeklyHours } from "../assess/site.ts";
import type { UtcMinute } from "../sun/sun-times.ts";
import { minuteOfWeek, type OffsetPeriod } from "./wall-clock.ts";

const WEEK = 10080;

/**
 * When somebody is active, as UTC spans in order, with the active minutes before each: so that the active minutes
 * between two instants are one subtraction.
 */
export interface ActiveSpans {
  readonly starts: Float64Array;
  readonly ends: Float64Array;
  /** Active minutes before the start of each span. */
  readonly before: Float64Array;
}

interface Span {
  readonly start: UtcMinute;
  readonly end: UtcMinute;
}

function without(spans: readonly Span[], holes: readonly Span[]): readonly Span[] {
  let left = spans;
  for (const hole of holes) {
    left = left.flatMap((span) => {
      if (hole.end <= span.start || hole.start >= span.end) return [span];
      const parts = [
        { start: span.start, end: Math.min(span.end, hole.start) },
        { start: Math.max(span.start, hole.end), end: span.end },
      ];
      return parts.filter((part) => part.end > part.start);
    });
  }
  return left;
}

interface OpenSpan {
  readonly start: UtcMinute;
  end: UtcMinute;
}

/** Add the spans of one period in order; one that touches or overlaps the last is joined to it. */
function addPeriod(sorted: WeeklyHours, { from, to, offsetMin }: OffsetPeriod, spans: OpenSpan[]): void {
  let last = spans.at(-1);
  const firstWeek = from - minuteOfWeek(from + offsetMin);
  for (let week = firstWeek; week < to; week += WEEK) {
    for (const { fromMinute, toMinute } of sorted) {
      const start = Math.max(from, week + fromMinute);
      const end = Math.min(to, week + toMinute);
      if (end <= start) continue;
      if (last !== undefined && start <= last.end) last.end = Math.max(last.end, end);
      else spans.push((last = { start, end }));
    }
  }
}

/**
 * Weekly wall-clock hours laid over the calendar.
 *
 * On the night the clock goes back an hour of the wall clock happens twice and counts twice; on the night it goes
 * forward the skipped hour does not happen.
 */
export function activeSpans(
  hours: WeeklyHours,
  periods: readonly OffsetPeriod[],
  away: readonly Span[] = [],
): ActiveSpans {
  const sorted = [...hours].sort((a, b) => a.fromMinute - b.fromMinute);
  const present: OpenSpan[] = [];
  for (const period of periods) addPeriod(sorted, period, present);
  const spans = without(present, away);
  const starts = Float64Array.from(spans, (span) => span.start);
  const ends = Float64Array.from(spans, (span) => span.end);
  const before = new Float64Array(spans.length);
  for (let i = 1; i < spans.length; i++) before[i] = before[i - 1]! + ends[i - 1]! - starts[i - 1]!;
  return { starts, ends, before };
}

/** Index of the last span that starts at or before an instant; −1 before the first. */
function spanAt({ starts }: ActiveSpans, at: UtcMinute): number {
  let low = 0;
  let high = starts.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (starts[middle]! <= at) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

function minutesUpTo(spans: ActiveSpans, index: number, at: UtcMinute): number {
  if (index < 0) return 0;
  return spans.before[index]! + Math.min(at, spans.ends[index]!) - spans.starts[index]!;
}

/** Active minutes before an instant, counted from the first span. */
export function activeMinutesBefore(spans: ActiveSpans, at: UtcMinute): number {
  return minutesUpTo(spans, spanAt(spans, at), at);
}

/**
 * Active minutes from an instant to each of a rising list of lags after it, written into `out`.
 *
 * @returns the active minutes before the instant, as `activeMinutesBefore` gives them
 */
export function activeMinutesAfter(
  spans: ActiveSpans,
  at: UtcMinute,
  lags: ArrayLike<number>,
  out: Float64Array,
): number {
  let index = spanAt(spans, at);
  const base = minutesUpTo(spans, index, at);
  const { starts } = spans;
  for (let i = 0; i < lags.length; i++) {
    const then = at + lags[i]!;
    while (index + 1 < starts.length && starts[index + 1]! <= then) index++;
    out[i] = minutesUpTo(spans, index, then) - base;
  }
  return base;
}
