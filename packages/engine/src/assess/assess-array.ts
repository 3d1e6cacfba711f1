import type { Ohms } from "../quantity/index.ts";
import { voltageToPrint } from "../limits/max-voltage.ts";
import { proofResistor } from "../proof/proof-resistor.ts";
import { decideDuty } from "../rules/decide.ts";
import { type ArrayParts, partsOf } from "../rules/known-facts.ts";
import type { RulePack } from "../rules/pack.ts";
import { arrayFindings } from "./array-findings.ts";
import { type CommonCheck, commonChecks } from "./common-check.ts";
import { areaOf, floorOf, hasModuleElectronics, residualOf, testOf, thresholdOf } from "./array-limits.ts";
import type { ArrayAssessment } from "./assessment.ts";
import type { PvArray, Site } from "./site.ts";

/**
 * Duty, limits and test resistor of one array.
 *
 * @param common  the insulation check that it shares with the other arrays of its inverter
 */
export function assessArray(
  array: PvArray,
  site: Site,
  packs: readonly RulePack[],
  common: CommonCheck = commonChecks(site).get(array.inverter)!,
): ArrayAssessment {
  const parts = partsOf(array, site);
  const { packs: binding, ...duty } = decideDuty(array, site, packs);
  const withPacks = { ...duty, packs: binding };
  const threshold = thresholdOf(parts, withPacks);
  const residual = residualOf(parts, withPacks);
  const areaM2 = areaOf(parts);
  const { max } = parts.voltage;
  const figures = {
    powerWatts: parts.powerWatts,
    areaM2,
    maxVoltage: max === null ? null : { ...max, volts: voltageToPrint(max.volts) },
    duty,
    insulationThreshold: threshold,
    insulationTest: testOf(parts, withPacks),
    residualLimit: residual,
    healthyFloor: floorOf(areaM2, threshold?.ohms ?? null),
    proofResistor: resistorOf(parts, threshold?.ohms, residual?.continuousMilliamps),
  };
  return { array: array.id, ...figures, findings: arrayFindings(parts, common, figures) };
}

/** Only for floating arrays without electronics or storage between the poles and the check. */
function resistorOf(
  parts: ArrayParts,
  threshold: number | undefined,
  residualLimitMilliamps: number | undefined,
): ArrayAssessment["proofResistor"] {
  const { array, inverter, voltage } = parts;
  const declined = hasModuleElectronics(parts) || inverter.kind === "storage-coupled";
  if (declined || array.earthing !== "floating" || threshold === undefined || voltage.max === null)
    return null;
  const made = proofResistor({
    maxVoltage: voltage.max.volts,
    threshold: threshold as Ohms,
    ...(residualLimitMilliamps === undefined ? {} : { residualLimitMilliamps }),
  });
  if (made === null) return null;
  const { ohms, watts, elements, permitted, warnings, series } = made;
  return {
    ohms,
    watts,
    milliamps: round(made.milliamps, 1),
    elements,
    series: { ...series, milliamps: round(series.milliamps, 1) },
    atMostOhms: Math.floor(made.atMostOhms),
    permitted,
    warnings,
  };
}

function round(value: number, digits: number): number {
  return Math.round(value * 10 ** digits) / 10 ** digits;
}
