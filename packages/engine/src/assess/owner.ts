import type { Assessment, AssessmentFinding } from "./assessment.ts";
import { siteFinding } from "./codes.ts";
import type { Inverter, Site } from "./site.ts";

/** What the owner is known to have been told, and what hands over with the site. Absence of a record is not a no. */
export function assessOwner(site: Site): Assessment["owner"] {
  return {
    informed: site.ownerInformed === undefined ? "unknown" : true,
    findings: [...informedFindings(site), ...anyFault(site), ...site.inverters.flatMap(passwordFindings)],
  };
}

function informedFindings({ ownerInformed, arrays }: Site): readonly AssessmentFinding[] {
  if (ownerInformed === undefined)
    return [siteFinding("OWNER_NOT_INFORMED", "The file has no ownerInformed record.")];
  const later = arrays.filter((array) => (array.altered ?? array.installed ?? "") > ownerInformed.on);
  return [
    ...(ownerInformed.document === undefined
      ? [siteFinding("OWNER_DOCUMENT_MISSING", `Told on ${ownerInformed.on}; no document is named.`)]
      : []),
    ...(later.length === 0
      ? []
      : [
          siteFinding(
            "OWNER_INFORMED_BEFORE_ALTERATION",
            `Told on ${ownerInformed.on}; since then work was done on ${later.map((array) => array.id).join(", ")}.`,
          ),
        ]),
  ];
}

function anyFault(site: Site): readonly AssessmentFinding[] {
  const shared = site.paths.filter(
    (path) =>
      path.signal === "indicator" ||
      (path.signal === "annunciator" &&
        site.arrays
          .filter((array) => path.arrays.includes(array.id))
          .some((array) => inverterOf(array.inverter, site)?.relay?.operatesOn !== "earth-fault")),
  );
  return shared.length === 0
    ? []
    : [siteFinding("OWNER_ANY_FAULT", `Concerns ${shared.map((path) => path.id).join(", ")}.`)];
}

function inverterOf(id: string, site: Site): Inverter | undefined {
  return site.inverters.find((inverter) => inverter.id === id);
}

function passwordFindings({ id, defaultPasswordChanged }: Inverter): readonly AssessmentFinding[] {
  if (defaultPasswordChanged === undefined)
    return [siteFinding("OWNER_PASSWORD_UNKNOWN", `Not recorded for inverter ${id}.`)];
  return defaultPasswordChanged ? [] : [siteFinding("OWNER_PASSWORD_DEFAULT", `Inverter ${id}.`)];
}
