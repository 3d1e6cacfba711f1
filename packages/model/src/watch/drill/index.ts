export {
  acknowledgeDrill,
  type BeaconOfPath,
  type Drill,
  type DrillRecipient,
  type DrillStart,
  type DrillStep,
  lookAtDrill,
  startDrill,
} from "./drill.ts";
export {
  beaconsLitBy,
  beaconsOfDrill,
  type DrillBeacon,
  drillLightEndsAt,
  unseenBeacons,
} from "./drill-beacon.ts";
export type { DrillCode } from "./drill-codes.ts";
export { drillSigns } from "./drill-signs.ts";
export { drillWords } from "./drill-words.ts";
export { nextDrillOn, type PathProof, pathProof, plannedDrillAt, proofOfDrill } from "./path-proof.ts";
export { type BeaconSeen, seeBeacon } from "./see-beacon.ts";
