import type { UtcMinute } from "../sun/sun-times.ts";
import { activeMinutesAfter, activeMinutesBefore } from "./active-spans.ts";
import type { Member, Scenario, SignalPlan } from "./signal-plan.ts";
import type { Watcher } from "./watch.ts";

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
  /** For each group and each of its scenarios: index of the first lag at which any member can have noticed. */
  readonly begins: readonly (readonly number[])[];
  readonly scenario: Float64Array;
  readonly member: Float64Array;
}

export function survivalScratch(lags: Float64Array, { watchers, groups }: SignalPlan): SurvivalScratch {
  const fresh = (): Float64Array => new Float64Array(lags.length);
  const gathered = watchers.map(() => ({ before: 0, hazard: fresh(), still: fresh() }));
  const begins = groups.map(({ scenarios }) => scenarios.map((scenario) => beginsAt(scenario, lags)));
  return { lags, gathered, groups: groups.map(fresh), begins, scenario: fresh(), member: fresh() };
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

/** Index of the first of a rising list of lags that is greater than a lag; 0 for no lag. */
function indexAt(lags: Float64Array, lag: number): number {
  if (lag <= 0) return 0;
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
 * Factor of exp(−hazard) that starts it anew at a lag, exp(hazard until then); null where that nears the largest double.
 */
function startedAnew(
  at: UtcMinute,
  lag: number,
  w: number,
  plan: SignalPlan,
  scratch: SurvivalScratch,
): number | null {
  if (lag <= 0) return 1;
  const { spans, perMinute } = plan.watchers[w]!;
  const already = (activeMinutesBefore(spans, at + lag) - scratch.gathered[w]!.before) * perMinute;
  return already < QUOTIENT_LIMIT ? Math.exp(already) : null;
}

/** Survival of one member, 1 − Σ heeds · (1 − exp(−hazard since the lag)), one term for each of its lags, from an index on. */
function followMember(
  at: UtcMinute,
  { watcher: w, heeds, lags }: Member,
  from: number,
  plan: SignalPlan,
  scratch: SurvivalScratch,
): void {
  const { member: out } = scratch;
  const { before, hazard, still } = scratch.gathered[w]!;
  const { spans, perMinute } = plan.watchers[w]!;
  out.fill(1, from);
  for (let tier = 0; tier < heeds.length; tier++) {
    const share = heeds[tier]!;
    const lag = lags[tier]!;
    const scale = startedAnew(at, lag, w, plan, scratch);
    const already = scale === null ? (activeMinutesBefore(spans, at + lag) - before) * perMinute : 0;
    for (let k = Math.max(from, indexAt(scratch.lags, lag)); k < out.length; k++) {
      const left = scale === null ? Math.exp(already - hazard[k]!) : still[k]! * scale;
      out[k]! -= share * (1 - left);
    }
  }
}

/** Multiply the survival of one member into that of its scenario, from an index on. */
function multiplyMember(
  at: UtcMinute,
  member: Member,
  from: number,
  plan: SignalPlan,
  scratch: SurvivalScratch,
): void {
  const { scenario } = scratch;
  const { watcher: w, heeds, lags } = member;
  const scale = heeds.length === 1 ? startedAnew(at, lags[0]!, w, plan, scratch) : null;
  // The usual member heeds one thing, from the lag at which its scenario begins: one multiply-add a lag.
  if (scale !== null && (lags[0]! <= 0 || indexAt(scratch.lags, lags[0]!) <= from)) {
    const { still } = scratch.gathered[w]!;
    const never = 1 - heeds[0]!;
    const slope = heeds[0]! * scale;
    for (let k = from; k < scenario.length; k++) scenario[k]! *= never + slope * still[k]!;
    return;
  }
  followMember(at, member, from, plan, scratch);
  for (let k = from; k < scenario.length; k++) scenario[k]! *= scratch.member[k]!;
}

/** Index of the first lag at which any member of a scenario can have noticed. */
function beginsAt({ members }: Scenario, lags: Float64Array): number {
  let least = Infinity;
  for (const { lags: own } of members) for (const lag of own) if (lag < least) least = lag;
  return indexAt(lags, least);
}

/** Mix the products of the members over the states of the common cause: the hottest loop of the time to notice. */
function followGroup(at: UtcMinute, g: number, plan: SignalPlan, scratch: SurvivalScratch): void {
  const { scenario } = scratch;
  const { scenarios, floor } = plan.groups[g]!;
  const begins = scratch.begins[g]!;
  const out = scratch.groups[g]!;
  out.fill(floor);
  scenarios.forEach(({ weight, members }, s) => {
    const share = (1 - floor) * weight;
    const from = begins[s]!;
    for (let k = 0; k < from; k++) out[k]! += share;
    if (from === out.length) return;
    scenario.fill(share, from);
    for (const member of members) multiplyMember(at, member, from, plan, scratch);
    for (let k = from; k < out.length; k++) out[k]! += scenario[k]!;
  });
}

/**
 * Work out, for one detection, the probability that no member of each group has noticed by each lag.
 *
 * Exact for the model: exponentials in the time each watcher was active, mixed over the states of the common causes.
 */
export function followDetection(at: UtcMinute, plan: SignalPlan, scratch: SurvivalScratch): void {
  gatherAfter(at, plan.watchers, scratch);
  for (let g = 0; g < plan.groups.length; g++) followGroup(at, g, plan, scratch);
}

/** Survival of one combination after the detection last followed: the product of its groups. */
export function combinedSurvival(
  combination: readonly number[],
  scratch: SurvivalScratch,
  out: Float64Array,
): void {
  const [first, ...others] = combination;
  if (first === undefined) out.fill(1);
  else out.set(scratch.groups[first]!);
  for (const g of others) {
    const group = scratch.groups[g]!;
    for (let k = 0; k < out.length; k++) out[k]! *= group[k]!;
  }
}
