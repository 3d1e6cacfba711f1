import type { PreconditionId, Reading, SafetyAction, Step } from "@earthbell/engine";
import type { KeptVisit } from "../keep/kept.ts";

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
const STANDING_HOURS = 4;
const KEPT_STATES = 40;

/** Whether a tick counts now. A tick of the future, by a clock that was set back, does not. */
function holds(kept: KeptVisit, id: PreconditionId, now: string): boolean {
  const at = kept.ticks[id];
  if (at === undefined) return false;
  const hours = (Date.parse(now) - Date.parse(at)) / 3_600_000;
  return hours >= 0 && hours <= STANDING_HOURS;
}

/** What a step still waits for. Its readings cannot be entered before this is empty. */
export function missing(kept: KeptVisit, step: Step, now: string): readonly PreconditionId[] {
  return (step.requires as readonly PreconditionId[]).filter((id) => !holds(kept, id, now));
}

export function tick(kept: KeptVisit, step: Step, id: PreconditionId, now: string): KeptVisit {
  return { ...underWay(kept, step), ticks: { ...kept.ticks, [id]: now } };
}

export function untick(kept: KeptVisit, id: PreconditionId): KeptVisit {
  const { [id]: _, ...ticks } = kept.ticks;
  return { ...kept, ticks };
}

export function cautionsRead(kept: KeptVisit, step: Step): KeptVisit {
  const action: SafetyAction = step.action;
  return { ...underWay(kept, step), read: [...new Set([...kept.read, action])] };
}

/** The step is held from the first thing done for it, so that a recalculation does not change it under the hand. */
function underWay(kept: KeptVisit, step: Step): KeptVisit {
  return kept.step === null ? { ...kept, step, taken: 0 } : kept;
}

/** Another step is taken up; what was ticked for the moment of the last one no longer counts. */
export function chooseStep(kept: KeptVisit, step: Step | null): KeptVisit {
  return { ...remembered(kept, "another step"), step, taken: 0, typed: "", ticks: standing(kept) };
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
  const recorded = (Object.keys(kept.ticks) as PreconditionId[]).filter((id) => holds(kept, id, now));
  return {
    ...remembered(kept, "a reading"),
    visit: { ...kept.visit, recorded, readings: [...kept.visit.readings, reading] },
    typed: "",
  };
}

export function dropReading(kept: KeptVisit, index: number): KeptVisit {
  const readings = kept.visit.readings.filter((_, i) => i !== index);
  return { ...remembered(kept, "a reading taken away"), visit: { ...kept.visit, readings } };
}

function remembered(kept: KeptVisit, what: string): KeptVisit {
  const { visit, step, taken } = kept;
  return { ...kept, before: [...kept.before, { what, visit, step, taken }].slice(-KEPT_STATES) };
}

/** Takes back the last reading, removal or change of step. Ticks are no part of it: what was proved was proved. */
export function undo(kept: KeptVisit): KeptVisit {
  const last = kept.before.at(-1);
  if (last === undefined) return kept;
  const { visit, step, taken } = last;
  return { ...kept, visit, step, taken, typed: "", before: kept.before.slice(0, -1) };
}

/** The same array with nothing measured yet: after it has dried, or after the repair. */
export function afresh(
  kept: KeptVisit,
  { id, now, wet }: { id: string; now: string; wet: boolean },
): KeptVisit {
  const { visit } = kept;
  return {
    ...kept,
    id,
    title: `${kept.title}, ${wet ? "again" : "dry"}`,
    begun: now,
    changed: now,
    visit: { ...visit, readings: [], recorded: [], conditions: { ...visit.conditions, wet } },
    ticks: {},
    read: [],
    step: null,
    taken: 0,
    typed: "",
    notes: "",
    before: [],
  };
}
