import { listed } from "../grounds.ts";
import type { Drill, DrillBeacon } from "./drill-record.ts";

export function beaconsOfDrill({ beacons = [] }: Drill): readonly DrillBeacon[] {
  return beacons;
}

/** Beacons that nobody said in time to have seen. */
export function unseenBeacons(drill: Drill): readonly DrillBeacon[] {
  return beaconsOfDrill(drill).filter(({ seen }) => seen === null || seen.saidAt > drill.answerByAt);
}

/**
 * The instant from which a drill no longer lights a beacon: somebody has seen it, everybody has acknowledged, the stated time
 * is over, or the drill is.
 */
export function drillLightEndsAt(drill: Drill, { litUntilAt, seen }: DrillBeacon): number {
  const answers = drill.recipients.map(({ acknowledgedAt }) => acknowledgedAt ?? Infinity);
  return Math.min(litUntilAt, drill.ended?.at ?? Infinity, seen?.saidAt ?? Infinity, Math.max(...answers));
}

/** Beacons that a drill lights at an instant; none before it began. */
export function beaconsLitBy(drill: Drill, now: number): readonly DrillBeacon[] {
  if (now < drill.startedAt) return [];
  return beaconsOfDrill(drill).filter((one) => now < drillLightEndsAt(drill, one));
}

/** `beacon quay-lamp`, `beacons quay-lamp and hall-screen`. */
export function beaconsText(ids: readonly string[]): string {
  return `${ids.length === 1 ? "beacon" : "beacons"} ${listed(ids)}`;
}
