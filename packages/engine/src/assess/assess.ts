import { judgePath } from "../path/index.ts";
import { packsWith } from "../rules/built-in-packs.ts";
import type { RulePack } from "../rules/pack.ts";
import { assessArray } from "./assess-array.ts";
import type { Assessment } from "./assessment.ts";
import { commonChecks } from "./common-check.ts";
import { unfulfilled, withDuty } from "./duty-of-path.ts";
import { assessOwner } from "./owner.ts";
import type { Site } from "./site.ts";

export interface AssessOptions {
  /** The user's rule packs: one with the id of a built-in pack replaces it, another is added. */
  readonly packs?: readonly RulePack[];
  /** Calendar date at the site for which paths and proofs are judged, YYYY-MM-DD; the engine has no clock. */
  readonly onDate?: string;
}

/**
 * The assessment of a site: what the rules require of each array, the limits that go with it, what each path gives, and
 * what the owner is known to have been told.
 *
 * Nothing that the site does not state is replaced by a guess: it is null, undecided or judged at its worst, and a
 * finding says so.
 *
 * @throws RangeError ASSESS_REFERENCE_UNKNOWN when an array names a module or inverter that the site does not have
 */
export function assessSite(site: Site, options: AssessOptions = {}): Assessment {
  const packs = packsWith(options.packs ?? []);
  const context = options.onDate === undefined ? { site } : { site, onDate: options.onDate };
  const common = commonChecks(site);
  const arrays = site.arrays.map((array) => assessArray(array, site, packs, common.get(array.inverter)));
  const paths = site.paths.map((path) => withDuty(judgePath(path, context), path, arrays, packs));
  const completed = arrays.map((array) => {
    const serving = site.paths.filter((path) => path.arrays.includes(array.array)).map((path) => path.id);
    const judged = paths.filter((path) => serving.includes(path.path));
    return { ...array, findings: [...array.findings, ...unfulfilled(array, judged)] };
  });
  return {
    format: "earthbell.assessment/1",
    site: site.id,
    arrays: completed,
    paths,
    owner: assessOwner(site),
    warnings: warningsOf(completed),
  };
}

/** Each once: what is wrong with a check that several arrays share is said by each of them. */
function warningsOf(arrays: Assessment["arrays"]): readonly string[] {
  const faults = arrays.flatMap(({ findings }) => findings.filter(({ severity }) => severity === "fault"));
  return [...new Set(faults.map(({ code, text }) => `${code}: ${text}`))];
}
