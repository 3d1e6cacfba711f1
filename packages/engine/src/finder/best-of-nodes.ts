/** What lies further below the best is not looked for between two nodes. */
const HOPELESS = 40;
/** Both ends of an interval must lie this far below the best, and more by twice their difference, to leave its middle out unseen. */
const OUT_OF_SIGHT = 200;
/** Nodes looked at first are this far apart: less than the nodes that stand on one needle (nodes.ts), so that none is stepped over. */
const STRIDE = 8;

/**
 * The best of each node, −Infinity for nodes that are left out: between nodes far below the highest, none is tried.
 *
 * Of the hundreds of nodes over the healthy leakage a dozen matter. Every eighth is tried, then the middle of an interval
 * for as long as its ends, its middle or the parabola through them come near the highest.
 *
 * @param ln  positions of the nodes, ascending
 * @param bestAt  ln of the best that node has to offer
 */
export function bestOfNodes(ln: readonly number[], bestAt: (index: number) => number): Float64Array {
  const best = new Float64Array(ln.length).fill(-Infinity);
  let top = -Infinity;
  const look = (index: number): number => {
    const value = bestAt(index);
    best[index] = value;
    if (value > top) top = value;
    return value;
  };
  const first: number[] = [];
  for (let i = 0; i < ln.length - 1; i += STRIDE) first.push(i);
  first.push(ln.length - 1);
  for (const index of first) look(index);
  const split = (from: number, to: number): void => {
    const [high, low] = [Math.max(best[from]!, best[to]!), Math.min(best[from]!, best[to]!)];
    if (to - from < 2 || high + 2 * (high - low) < top - OUT_OF_SIGHT) return;
    const middle = (from + to) >> 1;
    look(middle);
    const at = [from, middle, to] as const;
    const reach = mayReach(
      at.map((i) => ln[i]!),
      at.map((i) => best[i]!),
    );
    if (reach < top - HOPELESS) return;
    split(from, middle);
    split(middle, to);
  };
  for (let k = 1; k < first.length; k++) split(first[k - 1]!, first[k]!);
  return best;
}

/** About how high a curve may rise between three points: the parabola through them, and half their range more. */
function mayReach(x: readonly number[], y: readonly number[]): number {
  const [x0, x1, x2] = x as [number, number, number];
  const [y0, y1, y2] = y as [number, number, number];
  const high = Math.max(y0, y1, y2);
  const low = Math.min(y0, y1, y2);
  const left = (y1 - y0) / (x1 - x0);
  const right = (y2 - y1) / (x2 - x1);
  const curvature = (right - left) / (x2 - x0);
  const slope = left + curvature * (x1 - x0);
  const toVertex = curvature < 0 ? -slope / (2 * curvature) : NaN;
  const isBetween = toVertex > x0 - x1 && toVertex < x2 - x1;
  const vertex = isBetween ? y1 + (slope * toVertex) / 2 : high;
  return Math.max(high, vertex) + (high - low) / 2;
}
