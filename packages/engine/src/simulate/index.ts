export * from "./random.ts";
export * from "./scenario.ts";
export { afterDrying, drawTruth, type Truth } from "./truth.ts";
export { exactReading, measure, readingWith } from "./measure.ts";
export type { MeasuredRequest } from "./measured-request.ts";
export * from "./blunder.ts";
export { scenarioOf } from "./scenario-of.ts";
export * from "./visit-of.ts";
export { firstRequests } from "./first-requests.ts";
export {
  drawScenario,
  earthed,
  SIMULATED_KINDS,
  oneString,
  paralleled,
  twoFaults,
  withClamp,
  type DrawnScenario,
  type SimulatedKind,
} from "./kinds.ts";
