export {
  DETECTOR_TOLERANCE,
  ELEMENT_VOLTAGE,
  heat,
  POWER_DERATING,
  POWER_RATINGS,
  type ProofResistor,
  type ProofResistorInput,
  proofResistor,
  ratingFor,
} from "./proof-resistor.ts";
export { type PathProof, type ProofPlan, proofPlan, STEPS_OF_THE_ARRAY } from "./commissioning.ts";
export { alternativeOf, type Expected, type ProofStep } from "./proof-step.ts";
