import { assessSite } from "../assess/assess.ts";
import type { Site } from "../assess/site.ts";
import type { RulePack } from "../rules/pack.ts";
import { type SiteCoverage, siteCoverage } from "./site-coverage.ts";

/** Coverage of the arrays of a site in the format `earthbell.coverage/1`. */
export interface CoverageReport {
  readonly format: "earthbell.coverage/1";
  readonly site: string;
  readonly arrays: readonly SiteCoverage[];
}

/**
 * Coverage of one array of a site, or of every array when none is named.
 *
 * @param packs  the user's rule packs, as in `assessSite`
 */
export function coverageReport(
  site: Site,
  arrayId?: string,
  packs: readonly RulePack[] = [],
): CoverageReport {
  const { arrays: assessed } = assessSite(site, { packs });
  const arrays = site.arrays
    .filter(({ id }) => arrayId === undefined || id === arrayId)
    .map((array) =>
      siteCoverage({
        array,
        module: site.modules.find(({ id }) => id === array.module)!,
        inverter: site.inverters.find(({ id }) => id === array.inverter)!,
        assessment: assessed.find((one) => one.array === array.id)!,
      }),
    );
  return { format: "earthbell.coverage/1", site: site.id, arrays };
}
