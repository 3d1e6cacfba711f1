/** A visit as entries that several people add to, with or without signal, and how they come together. */
export {
  type EntryBody,
  type EntryOf,
  inOrder,
  mergeEntries,
  nextEntry,
  type VisitEntry,
} from "./visit-entry.ts";
export {
  conflictsOf,
  notesOf,
  type ReadingConflict,
  type ReadingEntry,
  standingReadings,
  readingsOfSame,
  takenAway,
} from "./standing-readings.ts";
export type { HandedPhoto, HandedVisit, VisitBeginning } from "./handed-visit.ts";
