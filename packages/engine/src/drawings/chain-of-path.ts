import type { AssessmentFinding, PathAssessment } from "../assess/assessment.ts";
import type { Path, Person, Proof, Site } from "../assess/site.ts";
import { PATH_CODES } from "../path/codes.ts";
import type { ChainInput, ChainJoint, ChainLink } from "./chain.ts";

const ARRAY = 0;
const DETECTOR = 1;
const SIGNAL = 2;
const PERSON = 3;

/** Which link a finding is about, by the area its code names; what is left is about the signal. */
const LINK_OF: readonly (readonly [RegExp, number])[] = [
  [/^PATH_SERVES/u, ARRAY],
  [/^PATH_(DETECTOR|PROOF_DETECTOR)/u, DETECTOR],
  [
    /^PATH_(RECIPIENT|LISTENER|SOUND|OWNER|NOTICE|INDICATOR_(NOBODY|RARELY|PASSES|TOO_FAR|DISTANCE))/u,
    PERSON,
  ],
];

function linkOf(code: string): number {
  return LINK_OF.find(([pattern]) => pattern.test(code))?.[1] ?? SIGNAL;
}

/** Not about how the path is built, but about whether anybody saw it work. */
const isProof = ({ code }: AssessmentFinding): boolean => code.startsWith("PATH_PROOF");
const SEVERITIES = ["fault", "caution"] as const;

/** The link with the gravest finding about how it is built; where there is none, the missing proof of the signal. */
function weakestOf({ findings }: PathAssessment): ChainInput["weakest"] {
  for (const severity of SEVERITIES) {
    const grave = findings.filter((one) => one.severity === severity);
    const found = grave.find((one) => !isProof(one)) ?? grave[0];
    const entry = PATH_CODES.find(({ code }) => code === found?.code);
    if (entry !== undefined) return { link: linkOf(entry.code), mend: entry.next };
  }
  return null;
}

function newestProof(path: Path, proofs: readonly Proof[]): Proof | undefined {
  return proofs
    .filter((proof) => proof.path === path.id)
    .toSorted((a, b) => a.on.localeCompare(b.on))
    .at(-1);
}

/** What the newest proof says of each joint: a drill starts at the signal, a test resistor at the array. */
function jointsOf(path: Path, { findings }: PathAssessment, site: Site): readonly ChainJoint[] {
  const has = (code: string): boolean => findings.some((one) => one.code === code);
  const newest = newestProof(path, site.proofs);
  const lapsed = { state: "unproven", words: newest === undefined ? "" : `last ${newest.on}` } as const;
  if (newest === undefined || !has("PATH_PROOF_CURRENT")) return [lapsed, lapsed, lapsed];
  const proven = { state: "proven", words: newest.on } as const;
  const untested = { state: "unproven", words: "never by resistor" } as const;
  return has("PATH_PROOF_DETECTOR_NOT_TESTED") ? [untested, untested, proven] : [proven, proven, proven];
}

function peopleOf(path: Path, site: Site): ChainLink {
  if (path.signal !== "message") {
    const details = path.signal === "annunciator" ? ["within hearing"] : ["passing by"];
    return { kind: "person", name: "people on site", details };
  }
  const people = path.to.map(
    (id): Pick<Person, "id" | "role"> => site.people.find((one) => one.id === id) ?? { id },
  );
  return {
    kind: "person",
    name: people.length === 1 ? people[0]!.id : `${people.length} people`,
    details: people.length === 1 ? [people[0]!.role ?? ""] : [people.map(({ id }) => id).join(", ")],
  };
}

function detectorOf(path: Path, site: Site): ChainLink {
  const ids = site.arrays.filter(({ id }) => path.arrays.includes(id)).map(({ inverter }) => inverter);
  const inverters = site.inverters.filter(({ id }) => ids.includes(id));
  const checks = inverters.some(({ insulationCheck }) => insulationCheck !== undefined);
  const monitors = inverters.some(({ residualMonitor }) => residualMonitor === true);
  return {
    kind: "detector",
    name: inverters.map(({ id }) => id).join(", "),
    details: [...(checks ? ["insulation check"] : []), ...(monitors ? ["residual current"] : [])],
  };
}

/**
 * A path of a site as a chain to be drawn: its links, what the newest proof says of each joint, and the weakest link with
 * what would mend it.
 */
export function chainOfPath(path: Path, site: Site, assessment: PathAssessment): Omit<ChainInput, "width"> {
  const verdicts = {
    meets: "meets what is asked",
    "falls-short": "falls short",
    unproven: "not proven",
    "cannot-tell": "cannot be judged",
  } as const;
  return {
    title: `Path ${path.id}, ${path.signal}: ${verdicts[assessment.verdict]}`,
    links: [
      { kind: "array", name: path.arrays.join(", "), details: [] },
      detectorOf(path, site),
      { kind: path.signal, name: path.id, details: [path.signal] },
      peopleOf(path, site),
    ],
    joints: jointsOf(path, assessment, site),
    weakest: weakestOf(assessment),
  };
}
