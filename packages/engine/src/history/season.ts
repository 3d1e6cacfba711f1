const YEAR = 365.25;
/** Record from which a season can be told from a trend [d] [design choice]. */
const LEAST_DAYS = 540;
/** Weeks between the two values of a difference: long enough for the season to move, short against a record. */
const APART = 8;
const ROUNDS = 6;

/** A yearly swing of the dry level. */
export interface Season {
  /** Weights of the cosine and the sine of the year [decades]. */
  readonly cosine: number;
  readonly sine: number;
}

/** Deviation of a day from the year's middle [decades]. */
export function seasonAt(season: Season, day: number): number {
  return season.cosine * cosine(day) + season.sine * sine(day);
}

/**
 * The yearly swing of a weekly level, from its changes over eight weeks: a step spoils eight changes and a slope is only
 * their mean, so that neither is taken for a season. Least squares with Huber's weights, in six rounds.
 */
export function seasonOf(weeks: readonly { readonly day: number; readonly value: number }[]): Season | null {
  const first = weeks[0];
  const last = weeks.at(-1);
  if (first === undefined || last === undefined || last.day - first.day < LEAST_DAYS) return null;
  const rows: { c: number; s: number; change: number }[] = [];
  for (let i = APART; i < weeks.length; i++) {
    const [now, then] = [weeks[i]!, weeks[i - APART]!];
    if (now.day - then.day > 7 * (APART + 2)) continue;
    rows.push({
      c: cosine(now.day) - cosine(then.day),
      s: sine(now.day) - sine(then.day),
      change: now.value - then.value,
    });
  }
  if (rows.length < 40) return null;
  const [a, b] = huberFit(rows);
  return { cosine: a, sine: b };
}

const cosine = (day: number): number => Math.cos((2 * Math.PI * day) / YEAR);
const sine = (day: number): number => Math.sin((2 * Math.PI * day) / YEAR);

function huberFit(rows: readonly { c: number; s: number; change: number }[]): [number, number] {
  let [a, b, mean] = [0, 0, 0];
  let limit = Infinity;
  for (let round = 0; round < ROUNDS; round++) {
    let [w, wc, ws, wy, cc, ss, cs, cy, sy] = [0, 0, 0, 0, 0, 0, 0, 0, 0];
    for (const { c, s, change } of rows) {
      const off = Math.abs(change - mean - a * c - b * s);
      const weight = off <= limit ? 1 : limit / off;
      w += weight;
      wc += weight * c;
      ws += weight * s;
      wy += weight * change;
      cc += weight * c * c;
      ss += weight * s * s;
      cs += weight * c * s;
      cy += weight * c * change;
      sy += weight * s * change;
    }
    const [C, S, X] = [cc - (wc * wc) / w, ss - (ws * ws) / w, cs - (wc * ws) / w];
    const [U, V] = [cy - (wc * wy) / w, sy - (ws * wy) / w];
    const determinant = C * S - X * X;
    if (!(determinant > 1e-9)) return [0, 0];
    a = (U * S - V * X) / determinant;
    b = (V * C - U * X) / determinant;
    mean = (wy - a * wc - b * ws) / w;
    const residuals = rows
      .map(({ c, s, change }) => Math.abs(change - mean - a * c - b * s))
      .sort((p, q) => p - q);
    limit = 1.345 * Math.max(1e-4, 1.4826 * residuals[Math.floor(residuals.length / 2)]!);
  }
  return [a, b];
}
