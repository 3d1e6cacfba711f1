import type { UtcMinute } from "../sun/sun-times.ts";
import { spanAt } from "./active-spans.ts";
import { type Attention, unseenAfter } from "./attention.ts";
import type { PlayedGroup, PlayedMember, PlayedScenario, Tier } from "./played-group.ts";
import { addMix, addState } from "./state-mix.ts";

/** What the watchers of a plan have not noticed after the detection last followed. */
export interface Unseen {
  readonly attentions: readonly Attention[];
  /** By each lag, one array a watcher. */
  readonly byLag: readonly Float64Array[];
  /** Scratch of one tier, one member and one scenario; of products, by turns. */
  readonly tier: Float64Array;
  readonly member: Float64Array;
  readonly scenario: Float64Array;
  readonly product: readonly [Float64Array, Float64Array];
  readonly ones: Float64Array;
}

/** What is left of the attention at a delivery is divided by only down to here, far from the smallest double. */
const LEAST_DIVISOR = 1e-200;

/**
 * Write the slope of each member of a scenario, once it has settled.
 *
 * @returns false where too little is left of somebody's attention at a delivery to divide by
 */
function settle({ members, slope, atOnce }: PlayedScenario): boolean {
  if (atOnce) return true;
  let all = 1;
  for (let j = 0; j < members.length; j++) {
    const { tiers } = members[j]!;
    let sum = 0;
    let least = 1;
    for (let t = 0; t < tiers.length; t++) {
      const { heeds, unseen, index } = tiers[t]!;
      const then = unseen[index]!;
      sum += heeds / then;
      if (then < least) least = then;
    }
    all *= least;
    slope[j] = sum;
  }
  return all > LEAST_DIVISOR;
}

/** Add share · before · Π of four members (never + slope · unseen) to `out`, from an index on. */
function addFour(
  before: Float64Array,
  share: number,
  { never, slope }: PlayedScenario,
  unseen: readonly Float64Array[],
  j: number,
  out: Float64Array,
  from: number,
): void {
  const a = unseen[j]!;
  const b = unseen[j + 1]!;
  const c = unseen[j + 2]!;
  const d = unseen[j + 3]!;
  const neverA = never[j]!;
  const neverB = never[j + 1]!;
  const neverC = never[j + 2]!;
  const neverD = never[j + 3]!;
  const slopeA = slope[j]!;
  const slopeB = slope[j + 1]!;
  const slopeC = slope[j + 2]!;
  const slopeD = slope[j + 3]!;
  for (let k = from; k < out.length; k++) {
    const one = (neverA + slopeA * a[k]!) * (neverB + slopeB * b[k]!);
    const other = (neverC + slopeC * c[k]!) * (neverD + slopeD * d[k]!);
    out[k]! += share * before[k]! * one * other;
  }
}

/** Add share · Π (never + slope · unseen) over all members to the survival, where the scenario has settled. */
function addProduct(
  scenario: PlayedScenario,
  { unseen, survival }: PlayedGroup,
  { ones, product }: Unseen,
): void {
  const { share, settles } = scenario;
  let before = ones;
  let j = 0;
  for (; j + 4 < unseen.length; j += 4) {
    const next = product[(j >> 2) & 1]!;
    next.fill(0, settles);
    addFour(before, 1, scenario, unseen, j, next, settles);
    before = next;
  }
  addFour(before, share, scenario, unseen, j, survival, settles);
}

/** Multiply what one tier leaves of its member: 1 less what it heeds and has seen since the delivery. */
function subtractTier(
  at: UtcMinute,
  watcher: number,
  { heeds, lag, begins, unseen: own, index }: Tier,
  [from, to]: readonly [number, number],
  { attentions, byLag, tier, member }: Unseen,
): void {
  const first = Math.max(from, begins);
  if (first >= to) return;
  let unseen = byLag[watcher]!;
  let then = own[index]!;
  if (then < LEAST_DIVISOR) {
    const attention = attentions[watcher]!;
    unseenAfter(attention, at, lag, spanAt(attention.watcher, at + lag), begins, tier);
    unseen = tier;
    then = 1;
  }
  for (let k = first; k < to; k++) member[k]! -= heeds * (1 - unseen[k]! / then);
}

/** Add share · Π member to the survival over a range of lags, tier by tier: right where some have not begun, or at any time. */
function addByTiers(
  at: UtcMinute,
  { share, members }: { readonly share: number; readonly members: readonly PlayedMember[] },
  range: readonly [number, number],
  survival: Float64Array,
  unseen: Unseen,
): void {
  const [from, to] = range;
  const { member, scenario } = unseen;
  scenario.fill(share, from, to);
  for (const { watcher, tiers } of members) {
    member.fill(1, from, to);
    for (const tier of tiers) subtractTier(at, watcher, tier, range, unseen);
    for (let k = from; k < to; k++) scenario[k]! *= member[k]!;
  }
  for (let k = from; k < to; k++) survival[k]! += scenario[k]!;
}

/** Mix the products of the members over the states of the common cause: the hottest loop of the time to notice. */
export function followGroup(at: UtcMinute, group: PlayedGroup, unseen: Unseen): void {
  const { survival, waiting, scenarios, mix } = group;
  const lags = survival.length;
  survival.set(waiting);
  mix?.sets.fill(0);
  let mixedTo = 0;
  for (const scenario of scenarios) {
    const { share, begins, settles } = scenario;
    if (!settle(scenario)) {
      addByTiers(at, scenario, [begins, lags], survival, unseen);
      continue;
    }
    if (begins < settles) addByTiers(at, scenario, [begins, settles], survival, unseen);
    if (mix === null) {
      addProduct(scenario, group, unseen);
      continue;
    }
    if (mixedTo < settles) addMix(mix, group.unseen, mixedTo, settles, survival);
    mixedTo = settles;
    addState(mix, share, scenario.never, scenario.slope);
  }
  if (mix !== null) addMix(mix, group.unseen, mixedTo, lags, survival);
}
