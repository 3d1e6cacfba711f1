import type { WeeklyHours } from "../assess/site.ts";
import type { UtcMinute } from "../sun/sun-times.ts";
import { minuteOfWeek, type OffsetPeriod } from "./wall-clock.ts";

const WEEK = 10080;

/**
 * When somebody is active, as UTC spans in order that do not touch. After the last come two that never begin, so that
 * walking them needs no end.
 */
export interface ActiveSpans {
  readonly starts: Float64Array;
  readonly ends: Float64Array;
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
  const starts = new Float64Array(spans.length + 2).fill(Infinity);
  const ends = new Float64Array(spans.length + 2).fill(Infinity);
  for (let i = 0; i < spans.length; i++) {
    starts[i] = spans[i]!.start;
    ends[i] = spans[i]!.end;
  }
  return { starts, ends };
}

/** Index of the last span that starts at or before an instant; −1 before the first. */
export function spanAt({ starts }: ActiveSpans, at: UtcMinute): number {
  let low = 0;
  let high = starts.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (starts[middle]! <= at) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}
