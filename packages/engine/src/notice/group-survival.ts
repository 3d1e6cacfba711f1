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
  /** Scratch of one tier, one member and one scenario. */
  readonly tier: Float64Array;
  readonly member: Float64Array;
  readonly scenario: Float64Array;
  readonly ones: Float64Array;
}

/** What is left of the attention at a delivery is divided by only down to here, far from the smallest double. */
const LEAST_DIVISOR = 1e-200;

/**
 * Write each member of a scenario, once it has settled, as never + slope · unseen.
 *
 * @returns false where too little is left of somebody's attention at a delivery to divide by
 */
function settle({ members }: PlayedScenario, { never, slope }: PlayedGroup): boolean {
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
    never[j] = members[j]!.never;
    slope[j] = sum;
  }
  return all > LEAST_DIVISOR;
}

/** out = kept · out + share · before · Π of four members (never + slope · unseen), from an index on. */
function multiplyFour(
  before: Float64Array,
  share: number,
  { unseen, never, slope }: PlayedGroup,
  j: number,
  [out, kept]: readonly [Float64Array, number],
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
    out[k] = kept * out[k]! + share * before[k]! * one * other;
  }
}

/** Add share · Π (never + slope · unseen) over all members to the survival, from an index on. */
function addProduct(share: number, group: PlayedGroup, from: number, { ones, scenario }: Unseen): void {
  let before = ones;
  let j = 0;
  for (; j + 4 < group.unseen.length; j += 4) {
    multiplyFour(before, 1, group, j, [scenario, 0], from);
    before = scenario;
  }
  multiplyFour(before, share, group, j, [group.survival, 1], from);
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
    unseenAfter(attention, at, lag, spanAt(attention, at + lag), begins, tier);
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
  const { survival, waiting, scenarios, mix, never, slope } = group;
  const lags = survival.length;
  survival.set(waiting);
  mix?.sets.fill(0);
  let mixedTo = 0;
  for (const scenario of scenarios) {
    const { share, begins, settles } = scenario;
    if (!settle(scenario, group)) {
      addByTiers(at, scenario, [begins, lags], survival, unseen);
      continue;
    }
    if (begins < settles) addByTiers(at, scenario, [begins, settles], survival, unseen);
    if (mix === null) {
      addProduct(share, group, settles, unseen);
      continue;
    }
    if (mixedTo < settles) addMix(mix, group.unseen, mixedTo, settles, survival);
    mixedTo = settles;
    addState(mix, share, never, slope);
  }
  if (mix !== null) addMix(mix, group.unseen, mixedTo, lags, survival);
}
