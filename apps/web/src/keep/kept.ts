import type { PreconditionId, Site, Step, Visit } from "@earthbell/engine";
import type { HandedPhoto, VisitEntry } from "@earthbell/model";

/** A visit as this device keeps it: the record itself, and where its person stands. */
export interface KeptVisit {
  readonly id: string;
  readonly title: string;
  /** Instants, ISO 8601 in UTC. */
  readonly begun: string;
  readonly changed: string;
  /** The circuit and the instruments, without readings. */
  readonly setUp: Visit;
  /** Everything that was entered, here and elsewhere. Entries are only added. */
  readonly entries: readonly VisitEntry[];
  /** The set-up with the readings that stand; follows from the two above. */
  readonly visit: Visit;
  /** Counts the entries of this open page. */
  readonly writer: string;
  /** The site and the case at a desk to which it is handed over; null where it stays on this device. */
  readonly place: { readonly site: string; readonly case: string | null } | null;
  /** The desk has it, if not yet everything of it. */
  readonly known: boolean;
  readonly photosAtDesk: readonly HandedPhoto[];
  /** When each precondition was ticked. */
  readonly ticks: Readonly<Partial<Record<PreconditionId, string>>>;
  /** When each caution was last read, under its id; and when the cautions of an action were, under the action. */
  readonly read: Readonly<Record<string, string>>;
  /** The step under way, so that a recalculation does not change it under the hand. */
  readonly step: Step | null;
  /** Readings of that step already taken. */
  readonly taken: number;
  /** What stands in the field of the next reading. */
  readonly typed: string;
  /** Notes as they are being written; null where what is on record is what is shown. */
  readonly draftNotes: string | null;
  /** Earlier states, the latest last, for undo. */
  readonly before: readonly Before[];
  /** The practice array this visit is about, if it is no real one. */
  readonly practice: { readonly exercise: number } | null;
}

export interface Before {
  readonly what: string;
  /** The entry that undo takes back; null where none was made. */
  readonly entry: string | null;
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
  /** The desk has it. */
  readonly sent: boolean;
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

/** A form that somebody is filling in, as it stands, until it has become a record. */
export interface KeptForm {
  readonly id: string;
  /** Instant, ISO 8601 in UTC. */
  readonly changed: string;
  /** The open page that wrote it last. */
  readonly writer: string;
  /** What stands in its fields; plain data, of the shape that its id says. */
  readonly form: unknown;
}
