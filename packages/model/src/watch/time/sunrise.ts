import { sunDay } from "@earthbell/engine";
import { DAY, MINUTE } from "./span.ts";
import { instantOf } from "./zone.ts";

export interface SunPlace {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
}

/** Whether the sun comes up on a day, and when; unknown where the site has no coordinates. */
export type SunOfDay =
  | { readonly kind: "up"; readonly at: number }
  | { readonly kind: "down-all-day" }
  | { readonly kind: "unknown" };

/** Number of the day that the sun shows at a place: zones near the date line can be a day away from it. */
function solarDay(at: number, longitudeDeg: number): number {
  return Math.floor((at + 4 * longitudeDeg * MINUTE) / DAY);
}

/** The next sunrise after an instant; null where the sun does not rise within two days. */
export function nextSunriseAt(now: number, { latitudeDeg, longitudeDeg }: SunPlace): number | null {
  const today = solarDay(now, longitudeDeg);
  for (const day of [today, today + 1, today + 2]) {
    const sun = sunDay(day, latitudeDeg, longitudeDeg);
    if (sun.kind !== "rises-and-sets") continue;
    const at = Math.round(sun.sunrise * MINUTE);
    if (at > now) return at;
  }
  return null;
}

/** The sun of one local date; in the polar day it counts as up from midnight. */
export function sunOfDay(date: string, zone: string, place: SunPlace | null): SunOfDay {
  if (place === null) return { kind: "unknown" };
  const noon = instantOf(date, 720, zone);
  const sun = sunDay(solarDay(noon, place.longitudeDeg), place.latitudeDeg, place.longitudeDeg);
  switch (sun.kind) {
    case "rises-and-sets":
      return { kind: "up", at: Math.round(sun.sunrise * MINUTE) };
    case "polar-day":
      return { kind: "up", at: instantOf(date, 0, zone) };
    case "polar-night":
      return { kind: "down-all-day" };
  }
}
