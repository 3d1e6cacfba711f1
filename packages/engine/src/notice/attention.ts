import type { UtcMinute } from "../sun/sun-times.ts";
import type { ActiveSpans } from "./active-spans.ts";

/** Somebody, or something on site, that notices at a rate while active, with the exponentials that a walk needs. */
export interface Watcher extends ActiveSpans {
  readonly perMinute: number;
  /** exp(−hazard) over each whole span. */
  readonly perSpan: Float64Array;
  /** exp(−hazard) over each whole number of minutes up to a day. */
  readonly perMinutes: Float64Array;
}

const DAY = 1440;

export function watcherOf({ starts, ends }: ActiveSpans, perMinute: number): Watcher {
  const perMinutes = new Float64Array(DAY + 1).fill(1);
  if (perMinute > 0) {
    perMinutes[1] = Math.exp(-perMinute);
    // By halves rounding grows with the logarithm of the minutes only.
    for (let m = 2; m <= DAY; m++) perMinutes[m] = perMinutes[m >> 1]! * perMinutes[m - (m >> 1)]!;
  }
  const perSpan = new Float64Array(starts.length);
  for (let i = 0; i < perSpan.length; i++) perSpan[i] = Math.exp(-perMinute * (ends[i]! - starts[i]!));
  return { starts, ends, perMinute, perSpan, perMinutes };
}

/** One watcher along a list of lags. */
export interface Attention {
  readonly watcher: Watcher;
  /** Rising [min]. */
  readonly lags: Float64Array;
  /** exp(−hazard) from the lag before to each lag, where the watcher is active throughout. */
  readonly perStep: Float64Array;
}

export function attentionOf(watcher: Watcher, lags: Float64Array): Attention {
  const perStep = new Float64Array(lags.length);
  for (let k = 1; k < lags.length; k++) perStep[k] = Math.exp(-watcher.perMinute * (lags[k]! - lags[k - 1]!));
  return { watcher, lags, perStep };
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
  { watcher: { perMinute, starts, ends, perSpan, perMinutes }, lags, perStep }: Attention,
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
