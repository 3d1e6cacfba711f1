/** One past morning: what was read, and the water that was there. Plain data. */
export interface Remembered {
  readonly day: number;
  /**
   * log10 Ω, referred to one temperature and season, and freed from how far the array lay off its past just then: the
   * morning's check alone, or the highest, first and last reading of a day that was followed.
   */
  readonly values: readonly number[];
  readonly depressionK: number | null;
  readonly irradianceWm2: number | null;
  readonly rain: boolean;
}

/** A past morning and how much it tells of the new one, 0 to 1. */
export interface Like {
  readonly morning: Remembered;
  readonly weight: number;
}

/** Dew forms or not within about a kelvin, and a bright dawn tells of a clear night that cooled the glass [design choices]. */
const WIDTH = { depressionK: 0.5, irradianceWm2: 12 } as const;
/** What a morning with rain tells of one without, and the other way round [design choice]. */
const OTHER_RAIN = 0.1;
/** Weights must come to so many mornings, else less like ones are taken too [design choice]. */
const LEAST_TOGETHER = 10;
const WIDEST = 64;
/** Squared distance beyond which a morning tells nothing. */
const FAR = 16;

/**
 * Past mornings by how like their weather was to the new one's. What is not noted counts as the same.
 *
 * @param halfLifeDays  age at which a morning tells half as much
 */
export function likeMornings(
  now: Remembered,
  past: readonly Remembered[],
  halfLifeDays: number,
): readonly Like[] {
  const apart = past.map((morning) => squaredDistance(now, morning));
  for (let wider = 1; ; wider *= 2) {
    const like: Like[] = [];
    let together = 0;
    past.forEach((morning, i) => {
      const squared = apart[i]! / wider;
      if (squared > FAR) return;
      const rain = morning.rain === now.rain ? 1 : OTHER_RAIN;
      const weight = rain * Math.exp(-squared / 2) * 0.5 ** ((now.day - morning.day) / halfLifeDays);
      together += weight;
      like.push({ morning, weight });
    });
    if (together >= LEAST_TOGETHER || wider >= WIDEST) return like;
  }
}

function squaredDistance(a: Remembered, b: Remembered): number {
  const along = (one: number | null, other: number | null, width: number): number =>
    one === null || other === null ? 0 : ((one - other) / width) ** 2;
  return (
    along(a.depressionK, b.depressionK, WIDTH.depressionK) +
    along(a.irradianceWm2, b.irradianceWm2, WIDTH.irradianceWm2)
  );
}
