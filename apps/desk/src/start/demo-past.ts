import { simulateInSteps, type SimulatedTrouble, type Site } from "@earthbell/engine";
import { localTime, type WatchReading } from "@earthbell/model";

const DAY_MS = 86_400_000;
const FIVE_YEARS_DAYS = 1826;
/** Where no trouble is named a site is sound: most sites of an owner are. */
const TROUBLES: Readonly<Record<string, SimulatedTrouble>> = {
  bakery: "intermittent",
  brickyard: "progressive",
  cannery: "moisture-driven",
  "kelp-drier": "moisture-driven",
  "light-cottage": "sensor",
  "pump-house": "progressive",
};

/**
 * Five years of one insulation figure a morning for every array of the demonstration, so that there is something to look
 * back on. Told as past: it decides nothing today. Two months of an array at a time, so that nobody waits for the rest.
 *
 * @param now   epoch milliseconds; the record ends two mornings before
 * @param seed  the same seed makes the same past
 */
export function* demoPast(sites: readonly Site[], now: number, seed: number): Generator<WatchReading[]> {
  for (const [place, site] of sites.entries())
    for (const [turn, { id: array, inverter }] of site.arrays.entries()) {
      const past = simulateInSteps({
        trouble: TROUBLES[site.id] ?? "healthy",
        seed: seed + 100 * place + turn,
        firstDay: Math.floor(now / DAY_MS) - FIVE_YEARS_DAYS - 1,
        days: FIVE_YEARS_DAYS,
        offsetMin: offsetMin(now, site.place.timezone ?? "UTC"),
        style: "bare",
      });
      for (const readings of past)
        yield readings.map(({ at, ohms }) => ({
          site: site.id,
          array,
          device: inverter,
          at,
          kind: "insulation",
          value: Number.isFinite(ohms) && ohms >= 0 ? ohms : null,
          unit: "ohm",
          quality: Number.isFinite(ohms) && ohms >= 0 ? "past" : "implausible",
          source: "demonstration",
          key: JSON.stringify(["past", site.id, array, at]),
        }));
    }
}

function offsetMin(at: number, zone: string): number {
  const { date, minuteOfDay } = localTime(at, zone);
  return Math.round((Date.parse(`${date}T00:00Z`) - at) / 60_000) + minuteOfDay;
}
