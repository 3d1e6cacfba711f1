/** A climate in a few numbers, invented; daily weather is drawn around it. */
export interface Climate {
  /** Mean air temperature of the year [°C]. */
  readonly meanC: number;
  /** Half the difference between the warmest and the coldest month [K]. */
  readonly seasonK: number;
  /** Day of the year of the warmest weather, 1 to 365. */
  readonly warmestDay: number;
  /** Half the swing of a clear day [K]. */
  readonly dayK: number;
  /** How far the dew point lies below the mean temperature of a day, on average [K]. */
  readonly drynessK: number;
  /** Chance that a rainless day is followed by a rainy one, and that a rainy one is followed by another. */
  readonly rainBegins: number;
  readonly rainLasts: number;
  /** Mean share of sky covered on rainless days, 0 to 1. */
  readonly cloud: number;
  /** Mean wind [m/s]. */
  readonly windMs: number;
}

export const CLIMATES = {
  "mild island": {
    meanC: 12,
    seasonK: 5,
    warmestDay: 25,
    dayK: 4,
    drynessK: 4,
    rainBegins: 0.3,
    rainLasts: 0.55,
    cloud: 0.5,
    windMs: 5,
  },
  "inland valley": {
    meanC: 10,
    seasonK: 11,
    warmestDay: 205,
    dayK: 7,
    drynessK: 5,
    rainBegins: 0.2,
    rainLasts: 0.45,
    cloud: 0.4,
    windMs: 2.5,
  },
  "dry plain": {
    meanC: 18,
    seasonK: 9,
    warmestDay: 20,
    dayK: 9,
    drynessK: 11,
    rainBegins: 0.07,
    rainLasts: 0.35,
    cloud: 0.2,
    windMs: 3.5,
  },
  "wet tropics": {
    meanC: 26,
    seasonK: 2.5,
    warmestDay: 10,
    dayK: 5,
    drynessK: 3.5,
    rainBegins: 0.35,
    rainLasts: 0.65,
    cloud: 0.45,
    windMs: 2.5,
  },
} as const satisfies Readonly<Record<string, Climate>>;

export type ClimateName = keyof typeof CLIMATES;
