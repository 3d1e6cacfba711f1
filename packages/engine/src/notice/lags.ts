/** Minutes after detection at which signals are followed: fine at first, coarse later, to 28 days. */
const STRETCHES = [
  { to: 60, step: 2, each: 5 },
  { to: 360, step: 10, each: 3 },
  { to: 2880, step: 30, each: 2 },
  { to: 11520, step: 120, each: 4 },
  { to: 40320, step: 360, each: 8 },
] as const;

export const HORIZON_MIN = 40320;

function built(): { readonly fine: Float64Array; readonly coarse: Float64Array } {
  const fine = [0];
  const coarse = [0];
  let from = 0;
  for (const { to, step, each } of STRETCHES) {
    for (let lag = from + step, i = 1; lag <= to; lag += step, i++) {
      fine.push(lag);
      if (i % each === 0 || lag === to) coarse.push(lag);
    }
    from = to;
  }
  return { fine: Float64Array.from(fine), coarse: Float64Array.from(coarse) };
}

const grids = built();
/** Lags at which the survival after one detection is integrated. */
export const FINE_LAGS = grids.fine;
/** Lags at which the answer is given; each is also a fine lag. */
export const COARSE_LAGS = grids.coarse;
