/**
 * Σ over states of share · Π over members of (never + slope · unseen), multiplied out: one coefficient for each set of
 * members. With few members and many states a lag then costs the sets, not the states times the members. No term is
 * negative, so nothing cancels.
 */
export interface StateMix {
  readonly members: number;
  /** Coefficients; bit j of the index: member j is in the set. */
  readonly sets: Float64Array;
  /** Scratch: the sets of one state; the sets at one lag. */
  readonly state: Float64Array;
  readonly folded: Float64Array;
}

export function stateMix(members: number): StateMix {
  const fresh = (): Float64Array => new Float64Array(1 << members);
  return { members, sets: fresh(), state: fresh(), folded: fresh() };
}

export function addState(
  { sets, state }: StateMix,
  share: number,
  never: Float64Array,
  slope: Float64Array,
): void {
  state[0] = share;
  for (let j = 0, bit = 1; bit < state.length; j++, bit <<= 1) {
    for (let set = 0; set < bit; set++) {
      state[set | bit] = state[set]! * slope[j]!;
      state[set]! *= never[j]!;
    }
  }
  for (let set = 0; set < sets.length; set++) sets[set]! += state[set]!;
}

/** Add the mix to a survival, over a range of lags. */
export function addMix(
  { members, sets, folded }: StateMix,
  unseen: readonly Float64Array[],
  from: number,
  to: number,
  out: Float64Array,
): void {
  if (members === 1) {
    const only = unseen[0]!;
    const [never, slope] = [sets[0]!, sets[1]!];
    for (let k = from; k < to; k++) out[k]! += never + slope * only[k]!;
    return;
  }
  const last = members - 1;
  for (let k = from; k < to; k++) {
    let half = sets.length >> 1;
    const ofLast = unseen[last]![k]!;
    for (let set = 0; set < half; set++) folded[set] = sets[set]! + sets[set + half]! * ofLast;
    for (let j = last - 1; j >= 0; j--) {
      half >>= 1;
      const ofMember = unseen[j]![k]!;
      for (let set = 0; set < half; set++) folded[set]! += folded[set + half]! * ofMember;
    }
    out[k]! += folded[0]!;
  }
}
