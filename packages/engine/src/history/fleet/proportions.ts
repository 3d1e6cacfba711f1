/** z of a 90 % interval. */
const NINETY = 1.6448536269514722;

/**
 * Wilson's interval of a share, honest for small samples: it never leaves 0 … 1 and is not empty for none of few.
 *
 * @param z  standard normal quantile; 90 % when left out
 * Source: Wilson 1927 [memory]. Check: checks/history-fleet (scipy)
 */
export function wilsonInterval(
  hits: number,
  of: number,
  z = NINETY,
): { readonly low: number; readonly high: number } {
  if (of === 0) return { low: 0, high: 1 };
  const share = hits / of;
  const middle = share + (z * z) / (2 * of);
  const half = z * Math.sqrt((share * (1 - share)) / of + (z * z) / (4 * of * of));
  const scale = 1 + (z * z) / of;
  return { low: hits === 0 ? 0 : (middle - half) / scale, high: hits === of ? 1 : (middle + half) / scale };
}

/**
 * Chance of at least so many hits in a group, were hits spread over the fleet without regard to it: Fisher's exact test,
 * one-sided.
 *
 * Check: checks/history-fleet (scipy)
 */
export function groupTail(hits: number, of: number, allHits: number, all: number): number {
  const misses = all - allHits;
  const first = Math.max(hits, of - misses);
  const last = Math.min(of, allHits);
  if (first > last) return 0;
  let ln = logChoose(allHits, first) + logChoose(misses, of - first) - logChoose(all, of);
  let sum = 0;
  for (let k = first; k <= last; k++) {
    sum += Math.exp(ln);
    // One hit more from the term before: a fleet of many thousands has groups of many thousands.
    ln += Math.log(((allHits - k) * (of - k)) / ((k + 1) * (misses - of + k + 1)));
  }
  return Math.min(1, sum);
}

function logChoose(n: number, k: number): number {
  let sum = 0;
  const least = Math.min(k, n - k);
  for (let i = 1; i <= least; i++) sum += Math.log((n - least + i) / i);
  return sum;
}

/**
 * Benjamini and Hochberg's adjusted p values, in the order given: among groups called at q, a share of about q is called
 * by chance.
 *
 * Source: Benjamini and Hochberg 1995 [memory]. Check: checks/history-fleet
 */
export function adjustedForMany(ps: readonly number[]): number[] {
  const order = ps.map((_, i) => i).sort((a, b) => ps[b]! - ps[a]!);
  const adjusted = new Array<number>(ps.length);
  let least = 1;
  order.forEach((index, fromTop) => {
    least = Math.min(least, (ps[index]! * ps.length) / (ps.length - fromTop));
    adjusted[index] = least;
  });
  return adjusted;
}
