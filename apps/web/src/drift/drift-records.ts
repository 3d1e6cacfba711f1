import type { FleetFinding } from "@earthbell/engine";

/** What the desk answers about the drift of the fleet. */
export interface Drift {
  readonly pending: number;
  readonly fleet: FleetFinding;
}

type Verdict = FleetFinding["ranking"][number]["verdict"];

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  healthy: "healthy",
  "moisture-driven": "moisture-driven fault",
  hard: "hard fault",
  progressive: "progressive decline",
  intermittent: "intermittent fault",
  sensor: "the sensor, not the array",
  "too-little-data": "too little data",
};

export const TRAIT_WORDS: Readonly<Record<FleetFinding["groups"][number]["trait"], string>> = {
  site: "Site",
  module: "Module type",
  connector: "Connector",
  installer: "Installer",
  batch: "Batch",
  place: "Place",
};
