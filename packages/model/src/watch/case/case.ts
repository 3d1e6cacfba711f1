import type { Sourced } from "@earthbell/engine";
import type { NamedStep } from "../alarm/alarm.ts";
import type { Effect } from "../effect.ts";

/** One line of a case's history. Lines are only ever added. */
export interface TimelineEntry {
  readonly at: number;
  /** The person; null for what the watch itself noted. */
  readonly by: string | null;
  readonly text: string;
}

export interface SignedCause extends NamedStep {
  readonly cause: string;
  /** Instant of the repair; null where nothing was repaired (a detector at fault, say). */
  readonly repairedAt: number | null;
}

export interface MeasuredInsulation extends NamedStep {
  readonly ohms: number;
  /** What it has to reach, from the array's assessment. */
  readonly required: Sourced<number>;
}

export interface OwnerTold extends NamedStep {
  /** The paper that the owner was given. */
  readonly document: string | null;
}

/** One earth fault of one array, from its first sign to its signed close. Plain JSON. */
export interface Case {
  readonly id: string;
  readonly site: string;
  readonly array: string;
  readonly openedAt: number;
  /** The closed case that this fault comes back from; null for a new fault. */
  readonly recurrenceOf: string | null;
  /** Ids of the alarms that belong to it, in the order in which they came. */
  readonly alarms: readonly string[];
  /** Those of them that say that the fault is there now. */
  readonly presentAlarms: readonly string[];
  /** Those of them that no signed cause has released. */
  readonly latchedAlarms: readonly string[];
  /** Latest instant at which the fault is known to have begun; a repair and a measurement that close the case come after it. */
  readonly lastBeganAt: number;
  readonly cause: SignedCause | null;
  readonly measured: MeasuredInsulation | null;
  readonly ownerTold: OwnerTold | null;
  readonly closed: NamedStep | null;
  readonly timeline: readonly TimelineEntry[];
}

export function withEntry(one: Case, at: number, by: string | null, text: string): Case {
  return { ...one, timeline: [...one.timeline, { at, by, text }] };
}

/** Takes what a step on one of its alarms asked to have noted into the timeline of the case. */
export function withNotes(one: Case, effects: readonly Effect[]): Case {
  return effects.reduce(
    (noted, effect) =>
      effect.effect === "note" ? withEntry(noted, effect.at, effect.by, effect.text) : noted,
    one,
  );
}
