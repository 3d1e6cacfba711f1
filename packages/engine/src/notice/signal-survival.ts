import type { UtcMinute } from "../sun/sun-times.ts";
import { activeMinutesAfter, activeMinutesBefore } from "./active-spans.ts";
import type { Group, Member, SignalPlan, Watcher } from "./signal-plan.ts";

/** Hazard gathered since detection, and exp(−hazard), of each watcher at each lag. */
interface Gathered {
  /** Active minutes before the detection. */
  before: number;
  readonly hazard: Float64Array;
  readonly still: Float64Array;
}

/** Scratch for survivals after one detection, reused from one detection to the next. */
export interface SurvivalScratch {
  readonly lags: Float64Array;
  readonly gathered: readonly Gathered[];
  /** Survival of each group of the plan. */
  readonly groups: readonly Float64Array[];
  /** Survival of each member of the group at hand. */
  readonly members: readonly Float64Array[];
  readonly scenario: Float64Array;
}

export function survivalScratch(lags: Float64Array, { watchers, groups }: SignalPlan): SurvivalScratch {
  const fresh = (): Float64Array => new Float64Array(lags.length);
  const gathered = watchers.map(() => ({ before: 0, hazard: fresh(), still: fresh() }));
  const most = Math.max(0, ...groups.map(({ members }) => members.length));
  const members = Array.from({ length: most }, fresh);
  return { lags, gathered, groups: groups.map(fresh), members, scenario: fresh() };
}

/** Work out what every watcher gathers after a detection. */
function gatherAfter(at: UtcMinute, watchers: readonly Watcher[], scratch: SurvivalScratch): void {
  watchers.forEach(({ spans, perMinute }, w) => {
    const gathered = scratch.gathered[w]!;
    const { hazard, still } = gathered;
    gathered.before = activeMinutesAfter(spans, at, scratch.lags, hazard);
    let last = 0;
    let lastStill = 1;
    for (let k = 0; k < hazard.length; k++) {
      const value = hazard[k]! * perMinute;
      // Through the hours in which nobody looks nothing changes, and no exponential is needed.
      if (value !== last) {
        last = value;
        lastStill = Math.exp(-value);
      }
      hazard[k] = value;
      still[k] = lastStill;
    }
  });
}

/** Beyond this hazard exp() of its negative nears the smallest double, so the quotient form is not used. */
const QUOTIENT_LIMIT = 500;

/** Index of the first of a rising list of lags that is greater than a lag. */
function firstAfter(lags: Float64Array, lag: number): number {
  let low = 0;
  let high = lags.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (lags[middle]! <= lag) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * Survival of one member: 1 − Σ heeds · (1 − exp(−hazard since the lag)), one term for each of its lags.
 *
 * The hottest loop of the time to notice: the usual member heeds one thing at once, which is one multiply-add a lag.
 */
function followMember(
  at: UtcMinute,
  { watcher: w, heeds, lags }: Member,
  watchers: readonly Watcher[],
  scratch: SurvivalScratch,
  out: Float64Array,
): void {
  const { before, hazard, still } = scratch.gathered[w]!;
  const { spans, perMinute } = watchers[w]!;
  let never = 1;
  for (const share of heeds) never -= share;
  out.fill(never);
  for (let tier = 0; tier < heeds.length; tier++) {
    const share = heeds[tier]!;
    const lag = lags[tier]!;
    const first = lag <= 0 ? 0 : firstAfter(scratch.lags, lag);
    for (let k = 0; k < first; k++) out[k]! += share;
    if (lag <= 0) {
      for (let k = 0; k < out.length; k++) out[k]! += share * still[k]!;
      continue;
    }
    if (first === out.length) continue;
    const already = (activeMinutesBefore(spans, at + lag) - before) * perMinute;
    const scale = Math.exp(already);
    for (let k = first; k < out.length; k++) {
      const left = already < QUOTIENT_LIMIT ? still[k]! * scale : Math.exp(already - hazard[k]!);
      out[k]! += share * Math.min(1, left);
    }
  }
}

/** Mix the products of the members over the states of the common cause. */
function mixScenarios({ scenarios, floor }: Group, scratch: SurvivalScratch, out: Float64Array): void {
  const { scenario } = scratch;
  out.fill(floor);
  for (const { weight, members } of scenarios) {
    const share = (1 - floor) * weight;
    const last = scratch.members[members[members.length - 1]!]!;
    if (members.length === 1) {
      for (let k = 0; k < out.length; k++) out[k]! += share * last[k]!;
      continue;
    }
    const head = scratch.members[members[0]!]!;
    for (let k = 0; k < out.length; k++) scenario[k] = share * head[k]!;
    for (let m = 1; m < members.length - 1; m++) {
      const member = scratch.members[members[m]!]!;
      for (let k = 0; k < out.length; k++) scenario[k]! *= member[k]!;
    }
    for (let k = 0; k < out.length; k++) out[k]! += scenario[k]! * last[k]!;
  }
}

/**
 * Work out, for one detection, the probability that no member of each group has noticed by each lag.
 *
 * Exact for the model: exponentials in the time each watcher was active, mixed over the states of the common causes.
 */
export function followDetection(
  at: UtcMinute,
  { watchers, groups }: SignalPlan,
  scratch: SurvivalScratch,
): void {
  gatherAfter(at, watchers, scratch);
  groups.forEach((group, g) => {
    group.members.forEach((member, m) => {
      followMember(at, member, watchers, scratch, scratch.members[m]!);
    });
    mixScenarios(group, scratch, scratch.groups[g]!);
  });
}

/** Survival of one combination after the detection last followed: the product of its groups. */
export function combinedSurvival(
  combination: readonly number[],
  scratch: SurvivalScratch,
  out: Float64Array,
): void {
  out.fill(1);
  for (const g of combination) {
    const group = scratch.groups[g]!;
    for (let k = 0; k < out.length; k++) out[k]! *= group[k]!;
  }
}
