/** Minutes since 1970-01-01 00:00 UTC. */
export type UtcMinute = number;

export type SunDay =
  | { readonly kind: "rises-and-sets"; readonly sunrise: UtcMinute; readonly sunset: UtcMinute }
  /** The sun stays above the horizon all day. */
  | { readonly kind: "polar-day" }
  /** The sun stays below the horizon all day. */
  | { readonly kind: "polar-night" };

const DAY = 1440;
const DEGREE = Math.PI / 180;
/** Refraction 34′ and the sun's radius 16′: the usual definition of rising. */
const HORIZON_DEG = -50 / 60;
/** Julian date of 1970-01-01 00:00 UTC. */
const EPOCH_JULIAN = 2440587.5;

interface SunPlace {
  readonly declinationRad: number;
  /** True minus mean solar time [min]. */
  readonly equationOfTimeMin: number;
}

/**
 * Declination of the sun and equation of time at an instant.
 *
 * Low-precision solar coordinates after Meeus, Astronomical Algorithms, ch. 25 and 28, as used in the public NOAA solar
 * calculator. Accuracy about 0.01° in longitude between 1900 and 2100.
 */
function sunAt(at: UtcMinute): SunPlace {
  const t = (at / DAY + EPOCH_JULIAN - 2451545) / 36525;
  const meanLongitude = (280.46646 + t * (36000.76983 + t * 0.0003032)) * DEGREE;
  const anomaly = (357.52911 + t * (35999.05029 - t * 0.0001537)) * DEGREE;
  const eccentricity = 0.016708634 - t * (0.000042037 + t * 0.0000001267);
  const centre =
    (1.914602 - t * (0.004817 + t * 0.000014)) * Math.sin(anomaly) +
    (0.019993 - t * 0.000101) * Math.sin(2 * anomaly) +
    0.000289 * Math.sin(3 * anomaly);
  const node = (125.04 - 1934.136 * t) * DEGREE;
  const longitude = meanLongitude + (centre - 0.00569 - 0.00478 * Math.sin(node)) * DEGREE;
  const meanObliquity = 23 + (26 + (21.448 - t * (46.815 + t * (0.00059 - t * 0.001813))) / 60) / 60;
  const obliquity = (meanObliquity + 0.00256 * Math.cos(node)) * DEGREE;
  const y = Math.tan(obliquity / 2) ** 2;
  const equation =
    y * Math.sin(2 * meanLongitude) -
    2 * eccentricity * Math.sin(anomaly) +
    4 * eccentricity * y * Math.sin(anomaly) * Math.cos(2 * meanLongitude) -
    0.5 * y * y * Math.sin(4 * meanLongitude) -
    1.25 * eccentricity * eccentricity * Math.sin(2 * anomaly);
  return {
    declinationRad: Math.asin(Math.sin(obliquity) * Math.sin(longitude)),
    equationOfTimeMin: (4 * equation) / DEGREE,
  };
}

/** Cosine of the hour angle at which the sun stands on the horizon; outside −1…1 it never does. */
function horizonCosine(latitudeRad: number, declinationRad: number): number {
  const height = Math.sin(HORIZON_DEG * DEGREE) - Math.sin(latitudeRad) * Math.sin(declinationRad);
  return height / (Math.cos(latitudeRad) * Math.cos(declinationRad));
}

/** Refine a first guess of an event with the sun's place at that event; four rounds settle to a second. */
function refined(meanNoon: UtcMinute, latitudeRad: number, side: -1 | 1): UtcMinute | null {
  let at = meanNoon;
  for (let round = 0; round < 4; round++) {
    const sun = sunAt(at);
    const cosine = horizonCosine(latitudeRad, sun.declinationRad);
    if (Math.abs(cosine) > 1) return null;
    at = meanNoon - sun.equationOfTimeMin + (side * 4 * Math.acos(cosine)) / DEGREE;
  }
  return at;
}

/**
 * Sunrise and sunset around the solar noon of one day at a place.
 *
 * @param dayNumber     days since 1970-01-01 of the local solar day
 * @param latitudeDeg   −90 to 90, north positive; exactly at a pole the sun never rises or sets in a day
 * @param longitudeDeg  −180 to 180, east positive
 * @returns instants in UTC minutes (not rounded), or polar day or night
 * Accuracy: some seconds away from the polar circles; refraction in real weather shifts rising by minutes.
 * Source: NOAA solar calculator equations after Meeus (published). Check: checks/sunrise
 */
export function sunDay(dayNumber: number, latitudeDeg: number, longitudeDeg: number): SunDay {
  const latitude = Math.max(-89.999, Math.min(89.999, latitudeDeg)) * DEGREE;
  const meanNoon = dayNumber * DAY + DAY / 2 - 4 * longitudeDeg;
  const sunrise = refined(meanNoon, latitude, -1);
  const sunset = refined(meanNoon, latitude, 1);
  if (sunrise !== null && sunset !== null) return { kind: "rises-and-sets", sunrise, sunset };
  const noon = horizonCosine(latitude, sunAt(meanNoon).declinationRad);
  return { kind: noon < 0 ? "polar-day" : "polar-night" };
}
