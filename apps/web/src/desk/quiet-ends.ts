import type { Site } from "@earthbell/engine";
import { nextSunriseAt, WATCH_LIMITS } from "@earthbell/model";
import { instantWords } from "./instant.ts";

export type QuietKind = "shelve" | "suppress" | "begin-maintenance";

const HOUR_MS = 3_600_000;
const HOURS: Readonly<Record<QuietKind, readonly number[]>> = {
  shelve: [1, 2, 4, 8],
  suppress: [1, 4, 8, 24],
  "begin-maintenance": [4, 8, 24, 72, 168],
};

/** When a quiet time may end: `value` is an instant, milliseconds since 1970. */
export type QuietEnd = readonly [value: string, shown: string];

/**
 * Ends to choose from. A shelf ends by the next sunrise at the site, since a wet fault comes back by dawn; the desk refuses
 * whatever lies beyond its own limits.
 */
export function quietEnds(kind: QuietKind, site: Site | undefined, now: number): readonly QuietEnd[] {
  const sunrise = kind === "shelve" ? sunriseAt(site, now) : null;
  const longest = now + longestHours(kind) * HOUR_MS;
  const latest = sunrise === null ? longest : Math.min(sunrise, longest);
  const ends = HOURS[kind]
    .map((hours): readonly [number, string] => [now + hours * HOUR_MS, lengthWords(hours)])
    .filter(([at]) => at <= latest)
    .map(([at, words]): QuietEnd => [String(at), `${words}, until ${instantWords(at)}`]);
  if (sunrise === null || sunrise > longest) return ends;
  return [...ends, [String(sunrise), `until the next sunrise there, ${instantWords(sunrise)}`]];
}

function sunriseAt(site: Site | undefined, now: number): number | null {
  const latitudeDeg = site?.place.latitudeDeg;
  const longitudeDeg = site?.place.longitudeDeg;
  if (latitudeDeg === undefined || longitudeDeg === undefined) return null;
  return nextSunriseAt(now, { latitudeDeg, longitudeDeg });
}

function longestHours(kind: QuietKind): number {
  const { shelfLongestH, suppressionLongestH, maintenanceLongestD } = WATCH_LIMITS;
  if (kind === "shelve") return shelfLongestH.value;
  return kind === "suppress" ? suppressionLongestH.value : 24 * maintenanceLongestD.value;
}

function lengthWords(hours: number): string {
  if (hours === 1) return "1 hour";
  return hours < 48 ? `${hours} hours` : `${hours / 24} days`;
}
