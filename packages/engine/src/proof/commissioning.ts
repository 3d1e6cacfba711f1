import { assessSite } from "../assess/assess.ts";
import type { Reason } from "../assess/assessment.ts";
import type { Path, Site } from "../assess/site.ts";
import type { RulePack } from "../rules/pack.ts";
import { arraysServed } from "../path/context.ts";
import { alarmSteps, RESISTOR_LIMIT_MIN } from "./alarm-steps.ts";
import { electricalSteps } from "./electrical-steps.ts";
import type { ProofStep } from "./proof-step.ts";

/** How to commission one array and prove one path on it, step by step. */
export interface PathProof {
  readonly path: string;
  readonly array: string;
  readonly steps: readonly ProofStep[];
  /** Each by itself ends the work: open the test resistor's switch if that is safe, stay clear, isolate. */
  readonly stopWhen: readonly Reason[];
}

/** The commissioning sequences of a site in the format `earthbell.proof-plan/1`. */
export interface ProofPlan {
  readonly format: "earthbell.proof-plan/1";
  readonly site: string;
  readonly proofs: readonly PathProof[];
}

/** Steps whose result for an array holds for every path on it, tested on the same day. */
export const STEPS_OF_THE_ARRAY: ReadonlySet<string> = new Set([
  "earth-continuity",
  "polarity",
  "open-circuit-voltage",
  "insulation-test",
]);

interface ProofOptions {
  /** This path only; without it every path. */
  readonly pathId?: string;
  /** Day of the work, YYYY-MM-DD: recipients whose post ended before it are left out. */
  readonly onDate?: string;
  /** The user's rule packs, as in `assessSite`. */
  readonly packs?: readonly RulePack[];
}

const ours = { source: "Earthbell's own rule", tag: "design choice" } as const;

const STOP_WHEN: readonly Reason[] = [
  { text: "a reading differs from what is expected and you cannot say why", ...ours },
  { text: "frames, rails, roof metal or gutters show voltage to earth", ...ours },
  { text: "the insulation test stays under its minimum: there is an earth fault to find first", ...ours },
  { text: "the alarm is on before the test resistor is connected", ...ours },
  { text: "the inverter reports residual current, or trips", ...ours },
  { text: "the resistor smokes, smells or discolours, or anything arcs", ...ours },
  { text: `${RESISTOR_LIMIT_MIN} min have passed with the test resistor connected`, ...ours },
  { text: "somebody comes near the array, its metal or the resistor", ...ours },
  { text: "rain, dew or lightning comes up", ...ours },
];

function hasElectronics(kind: string | undefined): boolean {
  return kind === "microinverter" || kind === "ac-module" || kind === "dc-dc";
}

function proofsOf(path: Path, site: Site, { onDate, packs = [] }: ProofOptions): readonly PathProof[] {
  const { arrays } = assessSite(site, { packs });
  return arraysServed(path, { site }).map((array) => {
    const inverter = site.inverters.find(({ id }) => id === array.inverter)!;
    const module = site.modules.find(({ id }) => id === array.module)!;
    const assessment = arrays.find((one) => one.array === array.id)!;
    const proof = { site, path, array, inverter, assessment, ...(onDate === undefined ? {} : { onDate }) };
    return {
      path: path.id,
      array: array.id,
      steps: [
        ...electricalSteps(array, module, assessment, hasElectronics(inverter.kind)),
        ...alarmSteps(proof),
      ],
      stopWhen: STOP_WHEN,
    };
  });
}

/**
 * The commissioning sequence of each path on each array it serves, with what every step should show.
 *
 * A step that cannot be worked out, or must not be done, stays in the sequence as left out with the reason. It advises
 * licensed people; the local code and the makers' instructions go before it.
 *
 * Source: order of tests IEC 62446-1 [memory]; figures as tagged on each. Check: commissioning.test.ts, by hand
 */
export function proofPlan(site: Site, options: ProofOptions = {}): ProofPlan {
  const { pathId } = options;
  const paths = site.paths.filter(({ id }) => pathId === undefined || id === pathId);
  return {
    format: "earthbell.proof-plan/1",
    site: site.id,
    proofs: paths.flatMap((path) => proofsOf(path, site, options)),
  };
}
