/** Called when `right` is placed before the elements left[from … to). */
export type Overtaken = (left: Uint32Array, from: number, to: number, right: number) => void;

/**
 * Sorts indices by a key and counts the pairs that change places.
 *
 * @param order  indices in their present order; overwritten with the new one
 * @param key    value of each index, ascending in the new order
 * @param tie    rank of each index among equal keys
 * @param spare  room of the same length
 * @returns number of pairs whose order the sort turned round; each is told to `overtaken`
 * Merge sort, O(n log n).
 */
export function mergeOrder(
  order: Uint32Array,
  key: Float64Array,
  tie: Uint32Array,
  spare: Uint32Array,
  overtaken?: Overtaken,
): number {
  const n = order.length;
  let turned = 0;
  let from = order;
  let to = spare;
  for (let width = 1; width < n; width *= 2) {
    for (let start = 0; start < n; start += 2 * width) {
      const middle = Math.min(start + width, n);
      const end = Math.min(start + 2 * width, n);
      let left = start;
      let right = middle;
      let out = start;
      while (left < middle && right < end) {
        const a = from[left]!;
        const b = from[right]!;
        const ka = key[a]!;
        const kb = key[b]!;
        if (kb < ka || (kb === ka && tie[b]! < tie[a]!)) {
          turned += middle - left;
          if (overtaken !== undefined) overtaken(from, left, middle, b);
          to[out++] = b;
          right++;
        } else {
          to[out++] = a;
          left++;
        }
      }
      while (left < middle) to[out++] = from[left++]!;
      while (right < end) to[out++] = from[right++]!;
    }
    [from, to] = [to, from];
  }
  if (from !== order) order.set(from);
  return turned;
}
