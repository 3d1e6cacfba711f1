/** A weighted sample of a quantity's logarithm. */
export interface WeightedLog {
  readonly ln: number;
  /** ln of the weight, any common offset. */
  readonly lnMass: number;
}

export interface Interval {
  readonly middle: number;
  readonly low: number;
  readonly high: number;
}

/** Median and central 90 % interval of quadrature nodes, interpolated between them. Null without nodes. */
export function intervalOf(sample: readonly WeightedLog[]): Interval | null {
  if (sample.length === 0) return null;
  let top = -Infinity;
  for (const { lnMass } of sample) if (lnMass > top) top = lnMass;
  const sorted = sample.toSorted((a, b) => a.ln - b.ln);
  const masses = sorted.map(({ lnMass }) => Math.exp(lnMass - top));
  const total = masses.reduce((sum, mass) => sum + mass, 0);
  const at = (share: number): number => {
    const goal = share * total;
    let before = 0;
    for (let i = 0; i < sorted.length; i++) {
      const middle = before + masses[i]! / 2;
      if (middle >= goal) {
        if (i === 0) return Math.exp(sorted[0]!.ln);
        const previous = before - masses[i - 1]! / 2;
        const t = (goal - previous) / Math.max(1e-300, middle - previous);
        return Math.exp(sorted[i - 1]!.ln + t * (sorted[i]!.ln - sorted[i - 1]!.ln));
      }
      before += masses[i]!;
    }
    return Math.exp(sorted[sorted.length - 1]!.ln);
  };
  return { middle: at(0.5), low: at(0.05), high: at(0.95) };
}
