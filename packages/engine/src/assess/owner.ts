import type { Assessment, AssessmentFinding } from "./assessment.ts";
import { listed } from "../path/judgement.ts";
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
    return [
      siteFinding(
        "OWNER_NOT_INFORMED",
        "No record says that the owner was told in writing what the alarm looks like and what to do. An owner who does not know takes it for a nuisance. Hand over a notice, and record its date and number under ownerInformed.",
      ),
    ];
  const later = arrays.filter((array) => (array.altered ?? array.installed ?? "") > ownerInformed.on);
  return [
    ...(ownerInformed.document === undefined
      ? [
          siteFinding(
            "OWNER_DOCUMENT_MISSING",
            `The owner was told on ${ownerInformed.on}, but no document is named, so nobody can look up what was said. Record the number of the notice.`,
          ),
        ]
      : []),
    ...(later.length === 0
      ? []
      : [
          siteFinding(
            "OWNER_INFORMED_BEFORE_ALTERATION",
            `The owner was told on ${ownerInformed.on}, and work was done later on ${listed(later.map((array) => array.id))}: the notice may describe an alarm that has changed. Go through it with the owner again and record the day.`,
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
    : [
        siteFinding(
          "OWNER_ANY_FAULT",
          `Any fault of the inverter operates the alarm of ${listed(shared.map((path) => path.id))}, not only an earth fault. An owner who has seen harmless ones may ignore the dangerous one. See that the written notice says so.`,
        ),
      ];
}

function inverterOf(id: string, site: Site): Inverter | undefined {
  return site.inverters.find((inverter) => inverter.id === id);
}

function passwordFindings({ id, defaultPasswordChanged }: Inverter): readonly AssessmentFinding[] {
  if (defaultPasswordChanged === undefined)
    return [
      siteFinding(
        "OWNER_PASSWORD_UNKNOWN",
        `Nobody recorded whether the maker's installer password of ${id} was changed; with it anybody can switch the alarm off. Check it at the next visit and record the answer, never the password.`,
      ),
    ];
  return defaultPasswordChanged
    ? []
    : [
        siteFinding(
          "OWNER_PASSWORD_DEFAULT",
          `${id} still has the maker's installer password; with it anybody can change the alarm settings or switch them off. Change it at the next visit and record that it was changed, never the password.`,
        ),
      ];
}
