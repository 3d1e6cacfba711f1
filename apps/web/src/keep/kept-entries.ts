import type { Visit } from "@earthbell/engine";
import {
  type EntryBody,
  type HandedVisit,
  mergeEntries,
  nextEntry,
  notesOf,
  standingReadings,
  takenAway,
  type VisitEntry,
} from "@earthbell/model";
import type { KeptPhoto, KeptVisit } from "./kept.ts";

/** The set-up with the readings that stand, and what was made sure of when the last of them was taken. */
function visitOf(setUp: Visit, entries: readonly VisitEntry[]): Visit {
  const readings = standingReadings(entries);
  const recorded = readings.at(-1)?.recorded ?? setUp.recorded;
  return {
    ...setUp,
    readings: readings.map(({ reading }) => reading),
    ...(recorded === undefined ? {} : { recorded }),
  };
}

export function withEntries(kept: KeptVisit, entries: readonly VisitEntry[]): KeptVisit {
  return { ...kept, entries, visit: visitOf(kept.setUp, entries) };
}

/** @returns the visit with one entry more, and the id of that entry */
export function addEntry(kept: KeptVisit, body: EntryBody, now: string): readonly [KeptVisit, string] {
  const entry = nextEntry(kept.entries, kept.writer, Date.parse(now), body);
  return [withEntries(kept, mergeEntries(kept.entries, [entry])), entry.id];
}

/** What somebody does here, with every entry that is kept already. */
export function mergeKept(here: KeptVisit, stored: KeptVisit): KeptVisit {
  const newer = stored.photosAtDesk.length > here.photosAtDesk.length ? stored : here;
  return {
    ...withEntries(here, mergeEntries(here.entries, stored.entries)),
    known: here.known || stored.known,
    photosAtDesk: newer.photosAtDesk,
  };
}

/** A visit as this device keeps it, once it has heard what the desk has of it. */
export function mergeHanded(stored: KeptVisit | undefined, handed: HandedVisit): KeptVisit {
  const begun = stored ?? freshVisit(handed);
  return {
    ...withEntries(begun, mergeEntries(begun.entries, handed.entries)),
    known: true,
    photosAtDesk: handed.photos,
  };
}

function freshVisit({ id, title, site, case: of, begunAt, setUp }: HandedVisit): KeptVisit {
  const begun = new Date(begunAt).toISOString();
  return { ...blankVisit({ id, title, now: begun, setUp }), place: { site, case: of } };
}

interface Blank {
  readonly id: string;
  readonly title: string;
  readonly now: string;
  readonly setUp: Visit;
}

/** A visit on which nothing was entered yet. */
export function blankVisit({ id, title, now, setUp }: Blank): KeptVisit {
  return {
    id,
    title,
    begun: now,
    changed: now,
    setUp,
    entries: [],
    visit: setUp,
    writer: id,
    place: null,
    known: false,
    photosAtDesk: [],
    ticks: {},
    read: {},
    step: null,
    taken: 0,
    typed: "",
    draftNotes: null,
    before: [],
    practice: null,
  };
}

/** The notes that are shown: what is being written, else what is on record. */
export function notesText({ draftNotes, entries }: Pick<KeptVisit, "draftNotes" | "entries">): string {
  return (
    draftNotes ??
    notesOf(entries)
      .map(({ text }) => text)
      .join("\n")
  );
}

/** Entries that the desk has not got yet. */
export function waitingEntries({ place, entries }: KeptVisit): readonly VisitEntry[] {
  return place === null ? [] : entries.filter(({ by }) => by === null);
}

/** Photos that still stand, of this device and of the desk. */
export function standingPhotos<Photo extends Pick<KeptPhoto, "id">>(
  kept: Pick<KeptVisit, "entries">,
  photos: readonly Photo[],
): readonly Photo[] {
  const gone = takenAway(kept.entries);
  return photos.filter(({ id }) => !gone.has(id));
}
