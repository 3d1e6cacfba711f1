import type { SquareMetres } from "../quantity/index.ts";
import { healthyFloor } from "../limits/healthy-floor.ts";
import type { ArrayParts } from "../rules/known-facts.ts";
import type { ArrayAssessment, AssessmentFinding } from "./assessment.ts";
import { siteFinding } from "./codes.ts";
import type { CommonCheck } from "./common-check.ts";
import { testFindings } from "./test-findings.ts";
import { kilohms, namesOf, ratingWords } from "./wording.ts";

type Figures = Omit<ArrayAssessment, "array" | "findings">;

/** A floor within this factor above the limit is worth a word [design choice]. */
const NEAR = 2;

/** What is wrong, or cannot be said, about the array itself; its paths are judged apart. */
export function arrayFindings(
  parts: ArrayParts,
  common: CommonCheck,
  figures: Figures,
): readonly AssessmentFinding[] {
  return [
    ...dutyFindings(parts, figures),
    ...thresholdFindings(parts, figures),
    ...sharedCheck(parts, common, figures),
    ...residualFindings(parts),
    ...blindSpot(parts),
    ...testFindings(parts, figures),
  ];
}

function dutyFindings({ array, voltage }: ArrayParts, { duty }: Figures): readonly AssessmentFinding[] {
  const open = `Whether the rules require an earth-fault alarm on array ${array.id} is not settled. Supply: ${duty.missing.join("; ")}. Until then treat it as required.`;
  const unknown = `The highest voltage of array ${array.id} cannot be worked out; it decides whether an alarm is required and what a test resistor must bear. Supply: ${voltage.missing.join("; ")}.`;
  return [
    ...(duty.alarm === "undecided" ? [siteFinding("DUTY_UNDECIDED", open)] : []),
    ...(voltage.max === null ? [siteFinding("DUTY_VOLTAGE_UNKNOWN", unknown)] : []),
  ];
}

function thresholdFindings(parts: ArrayParts, figures: Figures): readonly AssessmentFinding[] {
  const { array, inverter } = parts;
  const threshold = figures.insulationThreshold;
  if (threshold === null) {
    const text = `Neither a rule nor ${inverter.id} gives one insulation limit for array ${array.id}, so it cannot be said when the alarm must operate. Settle the duty, or record the limit of the check of ${inverter.id}.`;
    return array.earthing === "solid" ? [] : [siteFinding("DUTY_THRESHOLD_UNKNOWN", text)];
  }
  return [...detectorFindings(parts, figures.duty, threshold.ohms), ...byRating(parts, threshold)];
}

/** Without a duty the limit of the inverter's own check still decides when the inverter will not start. */
function detectorFindings(
  { array, inverter }: ArrayParts,
  { alarm }: Figures["duty"],
  thresholdOhms: number,
): readonly AssessmentFinding[] {
  const own = inverter.insulationCheck?.threshold;
  if (own === undefined) {
    const asked =
      alarm === "not-required"
        ? `No alarm is required on array ${array.id}; the limit that would apply is ${kilohms(thresholdOhms)}.`
        : `Nobody has recorded that it is set to the ${kilohms(thresholdOhms)} of array ${array.id}.`;
    const text = `The limit below which ${inverter.id} reports low insulation is not stated. ${asked} Read it from the inverter and record it.`;
    return [siteFinding("DUTY_DETECTOR_UNKNOWN", text)];
  }
  if (own >= thresholdOhms || alarm === "not-required") return [];
  const text = `${inverter.id} reports low insulation only below ${kilohms(own)}, and the alarm of array ${array.id} must operate below ${kilohms(thresholdOhms)}: in between a fault raises nothing. Raise the inverter's limit to ${kilohms(thresholdOhms)} or more, then prove the alarm.`;
  const figures = { detectorOhms: own, thresholdOhms };
  return [siteFinding("DUTY_DETECTOR_BELOW_THRESHOLD", text, figures)];
}

function byRating(
  { array }: ArrayParts,
  { ohms, otherwise }: NonNullable<Figures["insulationThreshold"]>,
): readonly AssessmentFinding[] {
  if (otherwise === undefined) return [];
  const higher = kilohms(Math.max(ohms, otherwise.ohms));
  const text = `The limit for array ${array.id} is ${kilohms(ohms)}, or ${kilohms(otherwise.ohms)} if the table goes by ${ratingWords(otherwise.rating)}; sources disagree. Look it up in your own copy, and until then set the detector to ${higher} or more.`;
  return [
    siteFinding("DUTY_THRESHOLD_BY_RATING", text, { thresholdOhms: ohms, otherwiseOhms: otherwise.ohms }),
  ];
}

/** The check sees every array of the inverter in parallel, so the floor that meets the limit is that of all. */
function sharedCheck(
  { inverter }: ArrayParts,
  { arrays, areaM2 }: CommonCheck,
  figures: Figures,
): readonly AssessmentFinding[] {
  const limit = inverter.insulationCheck?.threshold ?? figures.insulationThreshold?.ohms;
  const floor = areaM2 === null ? null : healthyFloor(areaM2 as SquareMetres);
  const findings: AssessmentFinding[] = [];
  if (arrays.length > 1) {
    const text = `${inverter.id} checks the insulation of ${namesOf(arrays)} together, so their sound insulation counts in parallel and an alarm does not tell which array has the fault. Compare the common floor with the limit, and prove the alarm from each array.`;
    const common = floor === null ? undefined : { commonFloorOhms: Math.round(floor) };
    findings.push(siteFinding("DUTY_SHARED_CHECK", text, common));
  }
  if (floor !== null && limit !== undefined) findings.push(...floorFindings(inverter.id, floor, limit));
  return findings;
}

function floorFindings(id: string, floor: number, limit: number): readonly AssessmentFinding[] {
  const figures = { floorOhms: Math.round(floor), limitOhms: limit };
  const sound = `Undamaged modules behind ${id} may together show as little as ${kilohms(floor)} when wet`;
  if (floor < limit) {
    const text = `${sound}, which is below the limit of ${kilohms(limit)} at which the check operates: expect alarms in wet weather without a damaged place. Treat each as a fault until the insulation of every string is measured; then divide the array between more insulation checks, or ask the inverter's maker for a lower limit that the rule still allows.`;
    return [siteFinding("DUTY_FLOOR_BELOW_THRESHOLD", text, figures)];
  }
  if (floor >= limit * NEAR) return [];
  const text = `${sound}, less than twice the limit of ${kilohms(limit)} at which the check operates: an alarm on a wet morning need not mean a damaged place. Treat each as a fault until it is measured, and keep dry and wet readings to compare.`;
  return [siteFinding("DUTY_FLOOR_NEAR_THRESHOLD", text, figures)];
}

function residualFindings({ inverter }: ArrayParts): readonly AssessmentFinding[] {
  if (inverter.separation === undefined) {
    const text = `Whether ${inverter.id} separates array and mains by a transformer is not stated; its residual-current limit is given for the stricter case, without one. Record its separation: none or simple.`;
    return [siteFinding("DUTY_SEPARATION_UNKNOWN", text)];
  }
  if (inverter.separation !== "none" || inverter.residualMonitor !== false) return [];
  const text = `${inverter.id} does not separate array and mains and is recorded without a residual-current monitor, so a fault while it feeds in is not seen. Confirm the monitor in its papers, or fit a device that does it.`;
  return [siteFinding("DUTY_RESIDUAL_MONITOR_ABSENT", text)];
}

/** Current through the earth connection is driven by the voltage of the faulted place, which is next to nothing beside it. */
function blindSpot({ array, inverter }: ArrayParts): readonly AssessmentFinding[] {
  const interrupter = inverter.earthFaultInterrupter;
  if (array.earthing !== "functional" && (array.earthing !== "solid" || interrupter === undefined)) return [];
  const rating = interrupter?.rating;
  const what =
    interrupter === undefined
      ? "an interrupter or fuse in the earth connection"
      : rating === undefined
        ? `the interrupter of ${inverter.id}, whose rating is not stated,`
        : `the interrupter of ${inverter.id}, rated ${rating} A,`;
  const text = `One conductor of array ${array.id} is earthed: a fault on it or near it may pass too little current for ${what} to open. It then stays unseen, and a second fault can burn. At every visit have a licensed person measure the insulation with array and earth connection isolated, or fit a device that measures it before each start.`;
  return [siteFinding("DUTY_BLIND_SPOT", text, rating === undefined ? undefined : { ratedCurrent: rating })];
}
