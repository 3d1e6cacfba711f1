import type { UtcMinute } from "../sun/sun-times.ts";
import type { Watcher } from "./watch.ts";

/** One watcher along a list of lags, with the exponentials that are the same after every detection. */
export interface Attention {
  readonly perMinute: number;
  /** Spans of activity; after the last come two that never begin, so that walking them needs no end. */
  readonly starts: Float64Array;
  readonly ends: Float64Array;
  /** exp(−hazard) over each whole span. */
  readonly perSpan: Float64Array;
  /** exp(−hazard) over each whole number of minutes up to a day. */
  readonly perMinutes: Float64Array;
  /** Rising [min]. */
  readonly lags: Float64Array;
  /** exp(−hazard) from the lag before to each lag, where the watcher is active throughout. */
  readonly perStep: Float64Array;
}

const DAY = 1440;
const NEVER = [Infinity, Infinity];

/** One watcher along each of several lists of lags. */
export function attentionsOf(
  { spans, perMinute }: Watcher,
  lists: readonly Float64Array[],
): readonly Attention[] {
  const perMinutes = new Float64Array(DAY + 1);
  for (let m = 0; m <= DAY; m++) perMinutes[m] = Math.exp(-perMinute * m);
  const over = (minutes: number): number => perMinutes[minutes] ?? Math.exp(-perMinute * minutes);
  const count = spans.starts.length;
  const starts = new Float64Array(count + 2);
  const ends = new Float64Array(count + 2);
  const perSpan = new Float64Array(count + 2).fill(1);
  starts.set(spans.starts);
  starts.set(NEVER, count);
  ends.set(spans.ends);
  ends.set(NEVER, count);
  for (let i = 0; i < count; i++) perSpan[i] = over(ends[i]! - starts[i]!);
  return lists.map((lags) => {
    const perStep = new Float64Array(lags.length);
    for (let k = 0; k < lags.length; k++) perStep[k] = over(k === 0 ? lags[k]! : lags[k]! - lags[k - 1]!);
    return { perMinute, starts, ends, perSpan, perMinutes, lags, perStep };
  });
}

/**
 * Probability that the watcher has not noticed by each lag after a detection what is there to be noticed since `sinceLag`:
 * exp(−hazard), written into `out` from an index on.
 *
 * Walks from span to span and multiplies exponentials worked out before. Hours begin on whole minutes and lags are whole
 * minutes, so the part of a minute into a span is the same in each, and its exponential is worked out once.
 * @param span  of the watcher, as `spanAt` gives it for the instant at + sinceLag
 * @param from  index of the first lag wanted, which is at or after `sinceLag`
 */
export function unseenAfter(
  { perMinute, starts, ends, perSpan, perMinutes, lags, perStep }: Attention,
  at: UtcMinute,
  sinceLag: number,
  span: number,
  from: number,
  out: Float64Array,
): void {
  let begin = sinceLag;
  let end = span < 0 ? begin : Math.max(begin, ends[span]! - at);
  let throughSpan = Math.exp(-perMinute * (end - begin));
  let left = 1;
  let part = 0;
  let overPart = 1;
  for (let k = from; k < lags.length; ) {
    if (lags[k]! < end) {
      const since = lags[k]! - begin;
      const whole = Math.floor(since);
      if (since - whole !== part) overPart = Math.exp(-perMinute * (part = since - whole));
      let unseen = left * overPart * (whole <= DAY ? perMinutes[whole]! : Math.exp(-perMinute * whole));
      out[k++] = unseen;
      for (; k < lags.length && lags[k]! < end; k++) out[k] = unseen *= perStep[k]!;
    }
    left *= throughSpan;
    begin = starts[++span]! - at;
    for (; k < lags.length && lags[k]! < begin; k++) out[k] = left;
    // Far out there are whole spans in which no lag falls.
    while (k < lags.length && starts[span + 1]! - at <= lags[k]!) left *= perSpan[span++]!;
    begin = starts[span]! - at;
    end = ends[span]! - at;
    throughSpan = perSpan[span]!;
  }
}
