import type { PreconditionId, SafetyAction, Site, Step, Visit } from "@earthbell/engine";

/** A visit as this device keeps it: the record itself, and where its person stands. */
export interface KeptVisit {
  readonly id: string;
  readonly title: string;
  /** Instants, ISO 8601 in UTC. */
  readonly begun: string;
  readonly changed: string;
  readonly visit: Visit;
  /** When each precondition was ticked. */
  readonly ticks: Readonly<Partial<Record<PreconditionId, string>>>;
  /** Actions whose cautions were read on this visit. */
  readonly read: readonly SafetyAction[];
  /** The step under way, so that a recalculation does not change it under the hand. */
  readonly step: Step | null;
  /** Readings of that step already taken. */
  readonly taken: number;
  /** What stands in the field of the next reading. */
  readonly typed: string;
  readonly notes: string;
  /** Earlier states, the latest last, for undo. */
  readonly before: readonly Before[];
  /** The practice array this visit is about, if it is no real one. */
  readonly practice: { readonly exercise: number } | null;
}

export interface Before {
  readonly what: string;
  readonly visit: Visit;
  readonly step: Step | null;
  readonly taken: number;
}

export interface KeptSite {
  readonly id: string;
  readonly name: string;
  readonly file: string;
  readonly text: string;
  readonly site: Site;
  readonly opened: string;
}

export interface KeptPhoto {
  readonly id: string;
  readonly visit: string;
  readonly taken: string;
  readonly name: string;
  readonly image: Blob;
}

/** What one finished exercise of the practice came to. */
export interface KeptScore {
  readonly exercise: number;
  readonly openings: number;
  readonly halvingOpenings: number;
  readonly minutes: number;
  readonly right: boolean;
  readonly on: string;
}
