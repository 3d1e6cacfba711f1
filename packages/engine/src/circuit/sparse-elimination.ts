/**
 * Gaussian elimination with row pivoting on a square matrix in dense storage, skipping what is zero.
 *
 * A string is a chain, so a row keeps few entries for long; tracking where each row ends makes the work per pivot follow the
 * chain's width instead of the matrix size. Solves in place.
 *
 * @returns null, or the index of the unknown for which no usable pivot was left.
 */
export function eliminate(rows: readonly Float64Array[], right: Float64Array): number | null {
  const size = rows.length;
  const row = [...rows];
  const last = Int32Array.from(row, lastNonZero);
  for (let column = 0; column < size; column++) {
    const best = largestBelow(row, last, column);
    if (best < 0) return column;
    exchange(row, last, right, column, best);
    const pivotRow = row[column]!;
    const pivot = pivotRow[column]!;
    const end = last[column]!;
    for (let other = column + 1; other < size; other++) {
      if (last[other]! < column) continue;
      const target = row[other]!;
      const entry = target[column]!;
      if (entry === 0) continue;
      const factor = entry / pivot;
      target[column] = 0;
      for (let k = column + 1; k <= end; k++) target[k] = target[k]! - factor * pivotRow[k]!;
      right[other] = right[other]! - factor * right[column]!;
      if (end > last[other]!) last[other] = end;
    }
  }
  for (let column = size - 1; column >= 0; column--) {
    const pivotRow = row[column]!;
    let sum = right[column]!;
    for (let k = column + 1; k <= last[column]!; k++) sum -= pivotRow[k]! * right[k]!;
    right[column] = sum / pivotRow[column]!;
  }
  return null;
}

function lastNonZero(row: Float64Array): number {
  let index = row.length - 1;
  while (index >= 0 && row[index] === 0) index--;
  return index;
}

function largestBelow(row: readonly Float64Array[], last: Int32Array, column: number): number {
  let best = -1;
  let size = 0;
  for (let candidate = column; candidate < row.length; candidate++) {
    if (last[candidate]! < column) continue;
    const entry = Math.abs(row[candidate]![column]!);
    if (entry > size) {
      size = entry;
      best = candidate;
    }
  }
  return best;
}

function exchange(row: Float64Array[], last: Int32Array, right: Float64Array, a: number, b: number): void {
  [row[a], row[b]] = [row[b]!, row[a]!];
  [last[a], last[b]] = [last[b]!, last[a]!];
  [right[a], right[b]] = [right[b]!, right[a]!];
}
