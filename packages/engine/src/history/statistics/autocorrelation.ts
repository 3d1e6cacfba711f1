/** Autocorrelations at lags 1 … `lags`, each sum divided by that of lag 0 (the biased estimate). Zero for constant values. */
export function autocorrelation(values: ArrayLike<number>, lags: number): number[] {
  const n = values.length;
  let total = 0;
  for (let i = 0; i < n; i++) total += values[i]!;
  const mean = total / n;
  const away = Float64Array.from(values, (value) => value - mean);
  const at = (lag: number): number => {
    let sum = 0;
    for (let i = lag; i < n; i++) sum += away[i]! * away[i - lag]!;
    return sum;
  };
  const whole = at(0);
  return Array.from({ length: lags }, (_, index) => (whole === 0 ? 0 : at(index + 1) / whole));
}
