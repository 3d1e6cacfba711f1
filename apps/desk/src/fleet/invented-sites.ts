import type { FleetSite } from "./start-fleet.ts";

/** Sites for a fleet of any size, one inverter and one array each, strewn over the open sea of the demo's islands. */
export function inventedSites(count: number): readonly FleetSite[] {
  return Array.from({ length: count }, (_, at) => ({
    site: `skerry-${String(at + 1).padStart(5, "0")}`,
    inverter: "INV1",
    arrays: ["A1"],
    latitudeDeg: -44 + (at % 8),
    longitudeDeg: 160 + (at % 5),
    thresholdOhms: 30_000,
  }));
}
