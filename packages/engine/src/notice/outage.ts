import type { MessageChannel, NoticeLink } from "./notice-model.ts";

/** One state of a link at the moment of detection: how likely, and for how long it is still down. */
export interface LinkState {
  readonly weight: number;
  /** Range of the remaining outage [min]; both 0: the link is up; both infinite: it never comes back. */
  readonly fromMin: number;
  readonly toMin: number;
  readonly meanMin: number;
}

/**
 * Shares of outages that last longer, at the edges of the strata: fine in the tail, where the waiting is, and few where an
 * outage is so rare that its detail hardly shows in the answer.
 */
function edgesFor(availability: number): readonly number[] {
  if (availability >= 0.98) return [1, 0.6, 0.25, 0.05, 0];
  if (availability >= 0.95) return [1, 0.75, 0.5, 0.25, 0.1, 0.03, 0];
  return [...Array.from({ length: 19 }, (_, i) => 1 - i / 20), 0.05, 0.02, 0.005, 0];
}

/** Mean of an exponential of mean 1 between two of its values. */
function meanBetween(a: number, b: number): number {
  if (b === Infinity) return a + 1;
  const above = Math.exp(-a);
  const below = Math.exp(-b);
  return ((a + 1) * above - (b + 1) * below) / (above - below);
}

/**
 * The states a link can be in when a fault is detected: up, or down with an exponential rest of the outage cut into
 * strata.
 *
 * An outage in force runs to its end and no second one follows: with an availability above one half the difference is
 * small, and an outage that begins after a message got through does no harm.
 */
export function linkStates({ availability, meanOutageMin }: NoticeLink): readonly LinkState[] {
  const up: LinkState = { weight: availability, fromMin: 0, toMin: 0, meanMin: 0 };
  if (availability >= 1) return [up];
  if (availability <= 0) return [{ weight: 1, fromMin: Infinity, toMin: Infinity, meanMin: Infinity }];
  const edges = edgesFor(availability);
  const strata = edges.slice(1).map((below, i) => {
    const above = edges[i]!;
    const from = -Math.log(above);
    const to = -Math.log(below);
    return {
      weight: (1 - availability) * (above - below),
      fromMin: from * meanOutageMin,
      toMin: to * meanOutageMin,
      meanMin: meanBetween(from, to) * meanOutageMin,
    };
  });
  return [up, ...strata];
}

/** Mean of the next attempt, a multiple of the repeat, after the rest of an outage in a stratum. */
function nextAttempt(state: LinkState, repeatMin: number): number {
  // Several attempts in the stratum: on average the outage ends half-way between two.
  if (state.toMin - state.fromMin > 2 * repeatMin) return state.meanMin + repeatMin / 2;
  return Math.ceil(state.meanMin / repeatMin) * repeatMin;
}

/**
 * Minutes from detection until the message, or the news that the link went quiet, is with its readers.
 *
 * A supervised link that stays silent is reported after the supervision interval, and the report counts as notice of
 * the fault once somebody has looked at the site.
 */
export function deliveryLag(channel: MessageChannel, state: LinkState): number {
  if (state.meanMin === 0) return 0;
  const attempt =
    channel.repeatMin === null || state.meanMin === Infinity
      ? Infinity
      : nextAttempt(state, channel.repeatMin);
  const silence =
    channel.supervisedMin === null ? Infinity : channel.supervisedMin + channel.checkAfterSilenceMin;
  return Math.min(attempt, silence);
}
