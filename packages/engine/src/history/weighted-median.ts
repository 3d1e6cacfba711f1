/** The value at which half the weight lies on either side; NaN without weight. */
export function weightedMedian(values: readonly number[], weights: readonly number[]): number {
  const order = values.map((_, i) => i).sort((a, b) => values[a]! - values[b]!);
  const half = weights.reduce((sum, weight) => sum + weight, 0) / 2;
  let passed = 0;
  for (const i of order) {
    passed += weights[i]!;
    if (passed >= half && passed > 0) return values[i]!;
  }
  return Number.NaN;
}
