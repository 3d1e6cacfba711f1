export {
  beaconGrounds,
  type BeaconPart,
  type BeaconShows,
  beaconState,
  type DrillLight,
  drillLightsAt,
  endsIn,
  raisedAt,
  type RaisedMatter,
} from "./beacon.ts";
export type { Delivery, MessageKind, MessageToSend, Told } from "./delivery.ts";
export {
  type AlarmMatter,
  type DrillMatter,
  type Matter,
  matterOfAlarm,
  matterOfCase,
  matterOfDrill,
  mattersOf,
} from "./matter.ts";
export {
  type Obstacle,
  type ObstacleKind,
  obstacleOf,
  pathInReach,
  type ReachedPath,
  type Rung,
  type TellPath,
  tellPathOf,
  type TellPerson,
  tellPersonOf,
} from "./recipients.ts";
export { shouldTell } from "./should-tell.ts";
export type { Hold, TellDecision } from "./tell-decision.ts";
export { tellRound, type TellRound } from "./tell-round.ts";
