import type { PreconditionId, Reading, Step } from "@earthbell/engine";
import {
  type EntryBody,
  notesOf,
  type ReadingConflict,
  readingsOfSame,
  standingReadings,
} from "@earthbell/model";
import type { KeptVisit } from "../keep/kept.ts";
import { addEntry, blankVisit, notesText } from "../keep/kept-entries.ts";
import { withCautionsRead } from "./cautions-read.ts";
import { stands } from "./standing.ts";

/**
 * Preconditions that hold through a visit once they are ticked, for a few hours; every other one is about a moment and is
 * ticked anew for each step [design choice].
 */
const STANDING: ReadonlySet<PreconditionId> = new Set([
  "licensed-person",
  "protective-equipment-worn",
  "array-isolated-both-poles",
  "earth-references-removed",
  "instrument-rated",
  "shunt-rated",
  "test-voltage-permitted",
]);
const KEPT_STATES = 40;

/** What a step still waits for. Its readings cannot be entered before this is empty. */
export function missing(kept: KeptVisit, step: Step, now: string): readonly PreconditionId[] {
  return (step.requires as readonly PreconditionId[]).filter((id) => !stands(kept.ticks[id], now));
}

export function tick(kept: KeptVisit, step: Step, id: PreconditionId, now: string): KeptVisit {
  return { ...underWay(kept, step), ticks: { ...kept.ticks, [id]: now } };
}

export function untick(kept: KeptVisit, id: PreconditionId): KeptVisit {
  const { [id]: _, ...ticks } = kept.ticks;
  return { ...kept, ticks };
}

export function cautionsRead(kept: KeptVisit, step: Step, now: string): KeptVisit {
  return { ...underWay(kept, step), read: withCautionsRead(kept.read, step, now) };
}

/** The step is held from the first thing done for it, so that a recalculation does not change it under the hand. */
function underWay(kept: KeptVisit, step: Step): KeptVisit {
  return kept.step === null ? { ...kept, step, taken: 0 } : kept;
}

/** Another step is taken up; what was ticked for the moment of the last one no longer counts. */
export function chooseStep(kept: KeptVisit, step: Step | null): KeptVisit {
  const next = { ...kept, step, taken: 0, typed: "", ticks: standing(kept) };
  return remembered(next, kept, "another step", null);
}

function standing({ ticks }: KeptVisit): KeptVisit["ticks"] {
  return Object.fromEntries(Object.entries(ticks).filter(([id]) => STANDING.has(id as PreconditionId)));
}

/** A reading taken for the step under way. After its last one the next step is open and momentary ticks are gone. */
export function takeReading(kept: KeptVisit, step: Step, reading: Reading, now: string): KeptVisit {
  const next = withReading(underWay(kept, step), reading, now);
  const taken = (kept.step === null ? 0 : kept.taken) + 1;
  const done = taken >= step.readings.length;
  return {
    ...next,
    step: done ? null : step,
    taken: done ? 0 : taken,
    ticks: done ? standing(next) : next.ticks,
  };
}

/** A reading of the person's own choice. */
export function addReading(kept: KeptVisit, reading: Reading, now: string): KeptVisit {
  return withReading(kept, reading, now);
}

function withReading(kept: KeptVisit, reading: Reading, now: string): KeptVisit {
  const recorded = (Object.keys(kept.ticks) as PreconditionId[]).filter((id) => stands(kept.ticks[id], now));
  const seen = readingsOfSame(kept.entries, reading);
  return changed(kept, "a reading", { kind: "reading", reading, seen, recorded }, now);
}

export function dropReading(kept: KeptVisit, index: number, now: string): KeptVisit {
  const entry = standingReadings(kept.entries)[index];
  return entry === undefined
    ? kept
    : changed(kept, "a reading taken away", { kind: "drop", of: entry.id }, now);
}

export function dropPhoto(kept: KeptVisit, id: string, now: string): KeptVisit {
  return addEntry(kept, { kind: "drop", of: id }, now)[0];
}

/** Of readings that contradict each other this one stands. */
export function chooseReading(
  kept: KeptVisit,
  conflict: ReadingConflict,
  of: string,
  now: string,
): KeptVisit {
  const over = conflict.map(({ id }) => id).filter((id) => id !== of);
  return changed(kept, "a choice", { kind: "choose", of, over }, now);
}

/** Readings that contradict each other stand beside each other. */
export function keepAll(kept: KeptVisit, conflict: ReadingConflict, now: string): KeptVisit {
  return addEntry(kept, { kind: "keep-all", of: conflict.map(({ id }) => id) }, now)[0];
}

/** Notes that were being written go on record, in place of those that stood there. */
export function recordNotes(kept: KeptVisit, now: string): KeptVisit {
  const { draftNotes: text } = kept;
  const bare = { ...kept, draftNotes: null };
  if (text === null || text === notesText(bare)) return bare;
  return addEntry(bare, { kind: "notes", text, seen: notesOf(kept.entries).map(({ id }) => id) }, now)[0];
}

/** What the readings say goes on record, and from there to the case. */
export function recordFinding(kept: KeptVisit, text: string, now: string): KeptVisit {
  return addEntry(kept, { kind: "found", text }, now)[0];
}

function changed(kept: KeptVisit, what: string, body: EntryBody, now: string): KeptVisit {
  const [after, entry] = addEntry(kept, body, now);
  return { ...remembered(after, kept, what, entry), typed: "" };
}

function remembered(
  kept: KeptVisit,
  { step, taken }: KeptVisit,
  what: string,
  entry: string | null,
): KeptVisit {
  return { ...kept, before: [...kept.before, { what, entry, step, taken }].slice(-KEPT_STATES) };
}

/** Takes back the last reading, removal, choice or change of step. Ticks are no part of it: what was proved was proved. */
export function undo(kept: KeptVisit, now: string): KeptVisit {
  const last = kept.before.at(-1);
  if (last === undefined) return kept;
  const { step, taken } = last;
  return { ...takenBack(kept, last.entry, now), step, taken, typed: "", before: kept.before.slice(0, -1) };
}

function takenBack(kept: KeptVisit, id: string | null, now: string): KeptVisit {
  const entry = kept.entries.find((one) => one.id === id);
  if (entry === undefined) return kept;
  const kind = entry.kind === "reading" ? "drop" : "restore";
  return addEntry(kept, { kind, of: entry.id }, now)[0];
}

/** The same array with nothing measured yet: after it has dried, or after the repair. */
export function afresh(
  kept: KeptVisit,
  { id, now, wet }: { id: string; now: string; wet: boolean },
): KeptVisit {
  const { setUp, title, place, practice } = kept;
  const begun = {
    id,
    title: `${title}, ${wet ? "again" : "dry"}`,
    now,
    setUp: { ...setUp, recorded: [], conditions: { ...setUp.conditions, wet } },
  };
  return { ...blankVisit(begun), place, practice };
}
