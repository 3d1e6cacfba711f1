/** A rehearsal fleet: simulated devices over real Modbus TCP, for the demo, drills, tests and benchmarks. */
export { inventedSites } from "./invented-sites.ts";
export {
  type Fleet,
  type FleetGateway,
  type FleetSite,
  startFleet,
} from "./start-fleet.ts";
