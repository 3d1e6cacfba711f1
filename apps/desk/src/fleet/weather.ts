import { seededRandom, sunDay } from "@earthbell/engine";

export interface FleetPlace {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
}

/** The weather of one instant as an array feels it. */
export interface Weather {
  /** Irradiance as a share of the clear noon; 0 while the sun is down. */
  readonly sun: number;
  /** 0 dry, 1 dripping wet. */
  readonly wet: number;
}

const MINUTE = 60_000;
const DAY_MINUTES = 1440;
/** Dew falls before sunrise and is gone some hours after it [design choice]. */
const DEW_BEFORE_MIN = 240;
const DEW_AFTER_MIN = 150;
/** Share of mornings with dew. */
const DEWY = 0.6;

/** The same seed, place and instant give the same weather, in whatever order they are asked. */
export function weatherAt(seed: number, { latitudeDeg, longitudeDeg }: FleetPlace, at: number): Weather {
  const minute = at / MINUTE;
  // The day that the sun shows at the place: sunrise of the far east is on the evening before in UTC.
  const day = Math.floor((minute + 4 * longitudeDeg) / DAY_MINUTES);
  const sun = sunDay(day, latitudeDeg, longitudeDeg);
  if (sun.kind !== "rises-and-sets") return { sun: sun.kind === "polar-day" ? 0.3 : 0, wet: 0 };
  const up = (minute - sun.sunrise) / (sun.sunset - sun.sunrise);
  const clear = up > 0 && up < 1 ? Math.sin(Math.PI * up) : 0;
  const random = seededRandom(mixed(seed, day));
  const cloud = 0.4 + 0.6 * random.uniform();
  const dew = random.uniform() < DEWY ? 0.3 + 0.7 * random.uniform() : 0;
  return { sun: clear * cloud, wet: dew * dewShare(minute - sun.sunrise) };
}

/** Rises to full at sunrise and dries off after it. */
function dewShare(afterSunriseMin: number): number {
  if (afterSunriseMin <= -DEW_BEFORE_MIN || afterSunriseMin >= DEW_AFTER_MIN) return 0;
  return afterSunriseMin < 0 ? 1 + afterSunriseMin / DEW_BEFORE_MIN : 1 - afterSunriseMin / DEW_AFTER_MIN;
}

/** One seed from two numbers, far from those of their neighbours. */
export function mixed(seed: number, number: number): number {
  return (Math.imul(seed ^ 0x9e37_79b9, 0x85eb_ca6b) ^ Math.imul(number + 1, 0xc2b2_ae35)) >>> 0;
}
