/** A stream of pseudo-random numbers; the same seed gives the same stream everywhere. */
export interface Random {
  /** Uniform in [0, 1), 32 bits. */
  readonly uniform: () => number;
  /** Standard normal. */
  readonly normal: () => number;
}

/**
 * sfc32 ("small fast counting", Chris Doty-Humphrey, PractRand, public domain; from memory): 128 bits of state, period at least 2³².
 * Normal variates by the polar method (Marsaglia and Bray 1964).
 */
export function seededRandom(seed: number): Random {
  let a = 0;
  let b = Math.floor(seed / 2 ** 32) | 0;
  let c = seed | 0;
  let counter = 1;
  let spare: number | null = null;
  const next = (): number => {
    const sum = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = ((c << 21) | (c >>> 11)) + sum;
    c |= 0;
    return sum >>> 0;
  };
  // The first outputs still show the seed; the generator's author discards 15.
  for (let i = 0; i < 15; i++) next();
  const uniform = (): number => next() / 2 ** 32;
  const normal = (): number => {
    if (spare !== null) {
      const kept = spare;
      spare = null;
      return kept;
    }
    for (;;) {
      const x = 2 * uniform() - 1;
      const y = 2 * uniform() - 1;
      const square = x * x + y * y;
      if (square === 0 || square >= 1) continue;
      const factor = Math.sqrt((-2 * Math.log(square)) / square);
      spare = y * factor;
      return x * factor;
    }
  };
  return { uniform, normal };
}
