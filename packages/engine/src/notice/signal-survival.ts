import type { UtcMinute } from "../sun/sun-times.ts";
import { spanAt } from "./active-spans.ts";
import { type Attention, attentionOf, unseenAfter } from "./attention.ts";
import { followGroup, type Unseen } from "./group-survival.ts";
import { type Grid, gridOf, type PlayedGroup, playedGroup } from "./played-group.ts";
import type { SignalPlan } from "./signal-plan.ts";

/** Survivals after one detection, in arrays that are used again after the next. */
export interface SignalSurvival {
  readonly grid: Grid;
  readonly unseen: Unseen;
  /** Of each watcher, along the lags at which something is delivered to it. */
  readonly deliveries: readonly Attention[];
  readonly groups: readonly PlayedGroup[];
}

export function signalSurvival(lags: Float64Array, { watchers, groups }: SignalPlan): SignalSurvival {
  const fresh = (): Float64Array => new Float64Array(lags.length);
  const grid = gridOf(lags, watchers.length, groups);
  return {
    grid,
    unseen: {
      attentions: watchers.map((watcher) => attentionOf(watcher, lags)),
      byLag: grid.byLag,
      tier: fresh(),
      member: fresh(),
      scenario: fresh(),
      product: [fresh(), fresh()],
      ones: fresh().fill(1),
    },
    deliveries: watchers.map((watcher, w) => attentionOf(watcher, grid.deliveries[w]!)),
    groups: groups.map((group) => playedGroup(group, grid)),
  };
}

/**
 * Work out, for one detection, the probability that no member of each group has noticed by each lag.
 *
 * Exact for the model: exponentials in the time each watcher was active, mixed over the states of the common causes.
 */
export function followDetection(
  at: UtcMinute,
  { grid: { byLag, byDelivery }, unseen, deliveries, groups }: SignalSurvival,
): void {
  for (let w = 0; w < deliveries.length; w++) {
    const along = unseen.attentions[w]!;
    const span = spanAt(along.watcher, at);
    unseenAfter(along, at, 0, span, 0, byLag[w]!);
    if (byDelivery[w]!.length > 0) unseenAfter(deliveries[w]!, at, 0, span, 0, byDelivery[w]!);
  }
  for (const group of groups) followGroup(at, group, unseen);
}

/**
 * Add, after the detection last followed, a multiple of the survival of one combination: the product of its groups.
 */
export function addCombined(
  combination: readonly number[],
  { groups }: SignalSurvival,
  weight: number,
  out: Float64Array,
): void {
  // Messages and what is on the site: no combination has more groups than these two.
  const one = combination.length > 0 ? groups[combination[0]!]!.survival : null;
  const other = combination.length > 1 ? groups[combination[1]!]!.survival : null;
  if (one === null) for (let k = 0; k < out.length; k++) out[k]! += weight;
  else if (other === null) for (let k = 0; k < out.length; k++) out[k]! += weight * one[k]!;
  else for (let k = 0; k < out.length; k++) out[k]! += weight * one[k]! * other[k]!;
}
