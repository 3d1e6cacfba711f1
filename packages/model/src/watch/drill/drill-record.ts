/** A beacon in which the path of a drill ends. Plain JSON. */
export interface DrillBeacon {
  readonly beacon: string;
  /** Its topic says of a drill that it is one; otherwise a drill looks like a fault there. */
  readonly saysDrill: boolean;
  /** The drill keeps it lit up to this instant at the longest, not included. */
  readonly litUntilAt: number;
  /** Who saw it burn and when, and when that was said; null while nobody did. */
  readonly seen: { readonly by: string; readonly at: number; readonly saidAt: number } | null;
}

export interface DrillRecipient {
  readonly person: string;
  readonly acknowledgedAt: number | null;
}

/** One rehearsal of one path. Plain JSON. */
export interface Drill {
  readonly id: string;
  readonly site: string;
  readonly path: string;
  readonly trigger: "scheduled" | "on-demand";
  /** Who started it; null for the schedule. */
  readonly by: string | null;
  readonly startedAt: number;
  /** Every recipient has to have acknowledged by then, this instant included. */
  readonly answerByAt: number;
  readonly recipients: readonly DrillRecipient[];
  /** Beacons in which the path ends; absent: in none. */
  readonly beacons?: readonly DrillBeacon[];
  /** People of the path who take no part, and why. */
  readonly leftOut: readonly { readonly person: string; readonly reason: string }[];
  readonly ended: { readonly at: number; readonly outcome: "passed" | "missed" } | null;
}
