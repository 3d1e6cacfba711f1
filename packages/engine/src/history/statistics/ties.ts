import { sortedCopy } from "./quantile.ts";

/** Sizes of the groups of equal values, groups of one left out. */
export function tieSizes(values: ArrayLike<number>): number[] {
  const sorted = sortedCopy(values);
  const sizes: number[] = [];
  let start = 0;
  for (let i = 1; i <= sorted.length; i++) {
    if (i < sorted.length && sorted[i] === sorted[start]) continue;
    if (i - start > 1) sizes.push(i - start);
    start = i;
  }
  return sizes;
}

/** Ranks from 1, equal values sharing the mean of theirs. */
export function midRanks(values: ArrayLike<number>): Float64Array {
  const order = Array.from({ length: values.length }, (_, i) => i).sort((a, b) => values[a]! - values[b]!);
  const ranks = new Float64Array(values.length);
  let start = 0;
  for (let i = 1; i <= order.length; i++) {
    if (i < order.length && values[order[i]!] === values[order[start]!]) continue;
    for (let k = start; k < i; k++) ranks[order[k]!] = (start + i + 1) / 2;
    start = i;
  }
  return ranks;
}
