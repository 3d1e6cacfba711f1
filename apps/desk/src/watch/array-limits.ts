import type { ArrayAssessment, Assessment, PvArray, Site } from "@earthbell/engine";
import { type ArrayLimits, UNKNOWN_ARRAY_LIMITS, type WatchLimits } from "@earthbell/model";

/**
 * What the detectors of each array go by, from the site file and its assessment. An array on a message path is expected to be
 * heard of every morning, be it by its earth-fault bit; no threshold leaves insulation unjudged until the duty is settled.
 */
export function arrayLimits(
  site: Site,
  assessment: Assessment,
  watch: WatchLimits,
): Readonly<Record<string, ArrayLimits>> {
  const heard = new Set(site.paths.flatMap(({ signal, arrays }) => (signal === "message" ? arrays : [])));
  return Object.fromEntries(
    site.arrays.map((array): [string, ArrayLimits] => [
      array.id,
      {
        ...UNKNOWN_ARRAY_LIMITS,
        zone: site.place.timezone ?? "UTC",
        insulationThreshold: thresholdOf(assessment.arrays.find((one) => one.array === array.id)),
        morningChecks: heard.has(array.id) ? checksOf(array) : [],
        watch,
      },
    ]),
  );
}

function thresholdOf(assessed: ArrayAssessment | undefined): ArrayLimits["insulationThreshold"] {
  const threshold = assessed?.insulationThreshold ?? null;
  if (threshold === null) return null;
  return { value: threshold.ohms, source: threshold.source, tag: threshold.tag };
}

function checksOf({ inverter }: PvArray): ArrayLimits["morningChecks"] {
  return [{ device: inverter, kind: "earth-fault-bit" }];
}
