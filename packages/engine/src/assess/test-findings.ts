import type { ArrayParts } from "../rules/known-facts.ts";
import { hasModuleElectronics } from "./array-limits.ts";
import type { ArrayAssessment, AssessmentFinding } from "./assessment.ts";
import { siteFinding } from "./codes.ts";
import { earthingWords } from "./wording.ts";

type Figures = Omit<ArrayAssessment, "array" | "findings">;

/** Largest array tested in one piece, in W [memory: IEC 62446-1]. */
const LARGEST_TEST_GROUP_W = 10_000;

/** What must be known before the insulation of an array is tested or its alarm is proved with a resistor. */
export function testFindings(parts: ArrayParts, figures: Figures): readonly AssessmentFinding[] {
  const { array, inverter } = parts;
  if (hasModuleElectronics(parts) || inverter.kind === "storage-coupled") {
    const text = `${inverter.id} is of kind ${inverter.kind!}: what may be connected to array ${array.id} or applied to it is not stated here, because it can harm the electronics and people. Use the maker's own procedure.`;
    return [siteFinding("PROOF_KIND_DECLINED", text)];
  }
  return [
    ...testVoltage(parts, figures),
    ...testGroups(parts, figures),
    ...(array.earthing === "floating" ? resistor(parts, figures) : notFloating(parts)),
  ];
}

/** A test above what the array ever stands at itself can break down what is not made for it. */
function testVoltage(
  { array, voltage }: ArrayParts,
  { insulationTest }: Figures,
): readonly AssessmentFinding[] {
  const max = voltage.max?.volts ?? voltage.atLeastV;
  if (insulationTest === null || insulationTest.testVoltage <= max) return [];
  const volts = insulationTest.testVoltage;
  const text = `The insulation test of array ${array.id} applies ${volts} V, more than the array itself reaches. First see in their papers that modules, cables, connectors, surge protectors and all else that stays connected bear ${volts} V, and disconnect what does not, the inverter included; where the papers do not say so, do not apply it.`;
  return [siteFinding("PROOF_TEST_VOLTAGE_ABOVE_ARRAY", text, { testVoltage: volts })];
}

function testGroups({ array }: ArrayParts, { powerWatts }: Figures): readonly AssessmentFinding[] {
  if (powerWatts <= LARGEST_TEST_GROUP_W) return [];
  const text = `Array ${array.id} has ${(powerWatts / 1000).toFixed(2)} kWp, and an array above 10 kWp is tested in groups of at most 10 kWp, so that one weak string is not hidden or blamed on all. Divide it for the insulation test, and divide a group that fails.`;
  return [siteFinding("PROOF_TEST_IN_GROUPS", text)];
}

function notFloating({ array }: ArrayParts): readonly AssessmentFinding[] {
  if (array.earthing === undefined) {
    const text = `Whether array ${array.id} has an earthed conductor is not stated, so no test resistor is given: on an earthed array it would be dangerous and prove nothing. Record its earthing: floating, functional or solid.`;
    return [siteFinding("PROOF_EARTHING_UNKNOWN", text)];
  }
  const text = `Array ${array.id} is ${earthingWords[array.earthing]}, so no test resistor is given: its current would return through the earth connection. Prove the interrupter or the insulation check by the maker's own test.`;
  return [siteFinding("PROOF_ARRAY_NOT_FLOATING", text)];
}

function resistor({ array, voltage }: ArrayParts, { proofResistor }: Figures): readonly AssessmentFinding[] {
  if (proofResistor === null) {
    const lacking = voltage.max === null ? voltage.missing.join("; ") : "the insulation threshold";
    const text = `No resistor that proves the alarm of array ${array.id} can be worked out. Supply: ${lacking}.`;
    return [siteFinding("PROOF_NOT_WORKED_OUT", text)];
  }
  if (proofResistor.permitted) return [];
  const text = `No test resistor may be connected to array ${array.id}. ${proofResistor.warnings[0]!}`;
  return [siteFinding("PROOF_CURRENT_TOO_HIGH", text)];
}
