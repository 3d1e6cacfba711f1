export * from "./statistics/index.ts";
export { dewPoint } from "./dew-point.ts";
export type { HistoryContext, HistoryReading, HistorySeries } from "./reading.ts";
export { readHistory, type HistoryFinding, type ReadHistory } from "./read-history.ts";
export { type Headline, headlineOf } from "./headline.ts";
export * from "./simulate/index.ts";
export { followMorning, followState, type FollowDecision, type FollowState } from "./follow-morning.ts";
export { morningsOf, type Morning, type Wetness } from "./mornings.ts";
export { drawHistory } from "./draw-history.ts";
export {
  byWeight,
  FLEET_TRAITS,
  type FleetArray,
  type FleetFinding,
  type FleetTrait,
  fleetSteps,
  type RankedArray,
  rankedOf,
  readFleet,
} from "./fleet/read-fleet.ts";
export type { DueVisit } from "./fleet/due-visit.ts";
export { adjustedForMany, groupTail, wilsonInterval } from "./fleet/proportions.ts";
