import type { ArrayAssessment, Assessment, PathAssessment, Site } from "@earthbell/engine";

/** How a site stands by its own file, short enough for a line of the register. */
export interface SiteStanding {
  /** Day at the site for which it was judged, YYYY-MM-DD. */
  readonly onDate: string;
  /** The strictest of its arrays. */
  readonly duty: ArrayAssessment["duty"]["alarm"];
  /** The best verdict among its paths; null where it has none. */
  readonly path: PathAssessment["verdict"] | null;
  /** The highest insulation threshold of its arrays [Ω]; null where none is known. */
  readonly thresholdOhms: number | null;
  /** Day of the newest proof in the file; null for none. */
  readonly provedOn: string | null;
}

const STRICTEST_FIRST = ["required", "undecided", "not-required"] as const;
const BEST_FIRST = ["meets", "unproven", "cannot-tell", "falls-short"] as const;

/**
 * A site without arrays cannot be read, so there is always a duty.
 *
 * @param onDate  the day of the assessment
 */
export function standingOf(site: Site, { arrays, paths }: Assessment, onDate: string): SiteStanding {
  const thresholds = arrays.flatMap(({ insulationThreshold }) => insulationThreshold?.ohms ?? []);
  return {
    onDate,
    duty: STRICTEST_FIRST.find((one) => arrays.some(({ duty }) => duty.alarm === one)) ?? "undecided",
    path: BEST_FIRST.find((one) => paths.some(({ verdict }) => verdict === one)) ?? null,
    thresholdOhms: thresholds.length === 0 ? null : Math.max(...thresholds),
    provedOn:
      site.proofs
        .map(({ on }) => on)
        .toSorted()
        .at(-1) ?? null,
  };
}
