import { partsOf } from "../rules/known-facts.ts";
import { areaOf } from "./array-limits.ts";
import type { Site } from "./site.ts";

/** What one insulation check of one inverter looks at: all its arrays in parallel. */
export interface CommonCheck {
  /** Ids, in the order of the file. */
  readonly arrays: readonly string[];
  /** Module area of all of them together [m²]; null where that of one is unknown. */
  readonly areaM2: number | null;
}

/** The common check of every inverter that has arrays, by its id; worked out once a site, since a site may have thousands. */
export function commonChecks(site: Site): ReadonlyMap<string, CommonCheck> {
  const found = new Map<string, { arrays: string[]; areaM2: number | null }>();
  for (const array of site.arrays) {
    const area = areaOf(partsOf(array, site));
    const check = found.get(array.inverter) ?? { arrays: [], areaM2: 0 };
    check.arrays.push(array.id);
    check.areaM2 = check.areaM2 === null || area === null ? null : check.areaM2 + area;
    found.set(array.inverter, check);
  }
  return found;
}
