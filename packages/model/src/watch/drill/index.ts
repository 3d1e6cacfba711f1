export {
  acknowledgeDrill,
  type BeaconOfPath,
  type DrillStart,
  type DrillStep,
  lookAtDrill,
  startDrill,
} from "./drill.ts";
export {
  beaconsLitBy,
  beaconsOfDrill,
  drillLightEndsAt,
  unseenBeacons,
} from "./drill-beacon.ts";
export type { DrillCode } from "./drill-codes.ts";
export type { Drill, DrillBeacon, DrillRecipient } from "./drill-record.ts";
export { drillSigns } from "./drill-signs.ts";
export { drillWords } from "./drill-words.ts";
export { nextDrillOn, type PathProof, pathProof, plannedDrillAt, proofOfDrill } from "./path-proof.ts";
export { type BeaconSeen, seeBeacon } from "./see-beacon.ts";
