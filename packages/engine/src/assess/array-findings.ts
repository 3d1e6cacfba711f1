import type { SquareMetres } from "../quantity/index.ts";
import { healthyFloor } from "../limits/healthy-floor.ts";
import { type ArrayParts, partsOf } from "../rules/known-facts.ts";
import { areaOf, hasModuleElectronics } from "./array-limits.ts";
import type { ArrayAssessment, AssessmentFinding } from "./assessment.ts";
import { siteFinding } from "./codes.ts";
import type { Site } from "./site.ts";

type Figures = Omit<ArrayAssessment, "array" | "findings">;

/** A floor within this factor of the limit is worth a word [design choice]. */
const NEAR = 2;
/** Largest array tested in one piece, in W [memory: IEC 62446-1]. */
const LARGEST_TEST_GROUP_W = 10_000;

/** What is wrong, or cannot be said, about the array itself; its paths are judged apart. */
export function arrayFindings(parts: ArrayParts, site: Site, figures: Figures): readonly AssessmentFinding[] {
  return [
    ...dutyFindings(parts, figures),
    ...thresholdFindings(parts, figures),
    ...sharedCheck(parts, site, figures),
    ...residualFindings(parts),
    ...resistorFindings(parts, figures),
  ];
}

function dutyFindings({ voltage }: ArrayParts, { duty }: Figures): readonly AssessmentFinding[] {
  return [
    ...(duty.alarm === "undecided"
      ? [siteFinding("DUTY_UNDECIDED", `Missing: ${duty.missing.join("; ")}.`)]
      : []),
    ...(voltage.max === null
      ? [siteFinding("DUTY_VOLTAGE_UNKNOWN", `Missing: ${voltage.missing.join("; ")}.`)]
      : []),
  ];
}

function thresholdFindings(parts: ArrayParts, figures: Figures): readonly AssessmentFinding[] {
  const { array, inverter } = parts;
  const threshold = figures.insulationThreshold;
  if (threshold === null)
    return array.earthing === "solid"
      ? []
      : [siteFinding("DUTY_THRESHOLD_UNKNOWN", "Neither rule nor inverter gives one insulation threshold.")];
  const own = inverter.insulationCheck?.threshold;
  const findings: AssessmentFinding[] = [];
  if (own === undefined)
    findings.push(
      siteFinding(
        "DUTY_DETECTOR_UNKNOWN",
        `Limit of ${inverter.id} not stated; ${kilohms(threshold.ohms)} is assumed.`,
      ),
    );
  else if (own < threshold.ohms)
    findings.push(
      siteFinding(
        "DUTY_DETECTOR_BELOW_THRESHOLD",
        `${inverter.id} checks against ${kilohms(own)}; the threshold is ${kilohms(threshold.ohms)}.`,
        { detectorOhms: own, thresholdOhms: threshold.ohms },
      ),
    );
  if (threshold.otherwise !== undefined)
    findings.push(
      siteFinding(
        "DUTY_THRESHOLD_BY_RATING",
        `${kilohms(threshold.ohms)} by one reading, ${kilohms(threshold.otherwise.ohms)} by ${threshold.otherwise.rating}.`,
        { thresholdOhms: threshold.ohms, otherwiseOhms: threshold.otherwise.ohms },
      ),
    );
  return findings;
}

/** The check sees every array of the inverter in parallel, so the floor that meets the limit is that of all. */
function sharedCheck(parts: ArrayParts, site: Site, figures: Figures): readonly AssessmentFinding[] {
  const together = site.arrays.filter((array) => array.inverter === parts.inverter.id);
  const areas = together.map((array) => areaOf(partsOf(array, site)));
  const area = areas.reduce<number | null>(
    (sum, one) => (sum === null || one === null ? null : sum + one),
    0,
  );
  const limit = parts.inverter.insulationCheck?.threshold ?? figures.insulationThreshold?.ohms;
  const floor = area === null ? null : healthyFloor(area as SquareMetres);
  const findings: AssessmentFinding[] = [];
  if (together.length > 1)
    findings.push(
      siteFinding(
        "DUTY_SHARED_CHECK",
        `${parts.inverter.id} checks ${together.map((array) => array.id).join(", ")} together.`,
        floor === null ? undefined : { commonFloorOhms: Math.round(floor) },
      ),
    );
  if (floor !== null && limit !== undefined && floor < limit * NEAR)
    findings.push(
      siteFinding(
        "DUTY_FLOOR_NEAR_THRESHOLD",
        `Healthy modules behind ${parts.inverter.id} may show ${kilohms(floor)} when wet; the check's limit is ${kilohms(limit)}.`,
        { floorOhms: Math.round(floor), limitOhms: limit },
      ),
    );
  return findings;
}

function residualFindings({ inverter }: ArrayParts): readonly AssessmentFinding[] {
  if (inverter.separation === undefined)
    return [siteFinding("DUTY_SEPARATION_UNKNOWN", `Separation of ${inverter.id} not stated.`)];
  return inverter.separation === "none" && inverter.residualMonitor === false
    ? [
        siteFinding(
          "DUTY_RESIDUAL_MONITOR_ABSENT",
          `${inverter.id} is recorded without a residual-current monitor.`,
        ),
      ]
    : [];
}

function resistorFindings(parts: ArrayParts, figures: Figures): readonly AssessmentFinding[] {
  const { array, inverter, voltage } = parts;
  if (hasModuleElectronics(parts) || inverter.kind === "storage-coupled")
    return [siteFinding("PROOF_KIND_DECLINED", `${inverter.id} is of kind ${inverter.kind!}.`)];
  const groups =
    figures.powerWatts > LARGEST_TEST_GROUP_W
      ? [siteFinding("PROOF_TEST_IN_GROUPS", `The array has ${(figures.powerWatts / 1000).toFixed(2)} kWp.`)]
      : [];
  if (array.earthing === undefined)
    return [...groups, siteFinding("PROOF_EARTHING_UNKNOWN", `Earthing of array ${array.id} not stated.`)];
  if (array.earthing !== "floating")
    return [
      ...groups,
      siteFinding("PROOF_ARRAY_NOT_FLOATING", `Earthing of array ${array.id}: ${array.earthing}.`),
    ];
  if (figures.proofResistor === null) {
    const lacking = voltage.max === null ? voltage.missing.join("; ") : "the insulation threshold";
    return [...groups, siteFinding("PROOF_NOT_WORKED_OUT", `Missing: ${lacking}.`)];
  }
  return figures.proofResistor.permitted
    ? groups
    : [...groups, siteFinding("PROOF_CURRENT_TOO_HIGH", figures.proofResistor.warnings[0]!)];
}

function kilohms(ohms: number): string {
  return `${Number((ohms / 1000).toPrecision(4))} kΩ`;
}
