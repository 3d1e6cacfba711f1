import type { FleetFinding } from "@earthbell/engine";

/** What the desk answers about the drift of the fleet. */
export interface Drift {
  readonly pending: number;
  readonly fleet: FleetFinding;
  /** Groups that were compared beyond those that are named. */
  readonly moreGroups: number;
  /** Names of the sites in the ranking, by their ids. */
  readonly names: Readonly<Record<string, string>>;
}

export const TRAIT_WORDS: Readonly<Record<FleetFinding["groups"][number]["trait"], string>> = {
  site: "Site",
  module: "Module type",
  connector: "Connector",
  installer: "Installer",
  batch: "Batch",
  place: "Place",
};
