import type { Reading } from "@earthbell/engine";
import { type EntryOf, inOrder, type VisitEntry } from "./visit-entry.ts";

export type ReadingEntry = EntryOf<"reading">;

/** Readings of one thing that were entered without knowledge of each other and do not agree; a person chooses. */
export type ReadingConflict = readonly ReadingEntry[];

function of<Kind extends VisitEntry["kind"]>(entries: readonly VisitEntry[], kind: Kind): EntryOf<Kind>[] {
  return entries.filter((entry): entry is EntryOf<Kind> => entry.kind === kind);
}

/** Ids of what was taken away, or passed over in a choice, and not put back. */
export function takenAway(entries: readonly VisitEntry[]): ReadonlySet<string> {
  const undone = new Set(of(entries, "restore").map((entry) => entry.of));
  const holds = ({ id }: VisitEntry): boolean => !undone.has(id);
  const choices = of(entries, "choose").filter(holds);
  // Two people who chose against each other have settled nothing: everything stands again.
  const agreed = choices.flatMap((choice) =>
    choice.over.filter(
      (loser) => !choices.some((other) => other.of === loser && other.over.includes(choice.of)),
    ),
  );
  const dropped = of(entries, "drop").filter(holds);
  return new Set([...dropped.map((entry) => entry.of), ...agreed]);
}

/**
 * The readings that stand, in order. The same value of the same thing, typed on two phones that did not know of each other,
 * stands once.
 */
export function standingReadings(entries: readonly VisitEntry[]): readonly ReadingEntry[] {
  const live = standing(entries);
  const settled = settledPairs(entries);
  return live.filter(
    (entry, at) =>
      !live
        .slice(0, at)
        .some((other) => unknowing(entry, other, settled) && other.reading.value === entry.reading.value),
  );
}

/** What two writers read differently, without knowledge of each other; until it is settled all of them stand. */
export function conflictsOf(entries: readonly VisitEntry[]): readonly ReadingConflict[] {
  const settled = settledPairs(entries);
  const groups = new Map<string, ReadingEntry[]>();
  const live = standingReadings(entries);
  for (const entry of live) {
    if (!live.some((other) => unknowing(entry, other, settled))) continue;
    const what = whatIsRead(entry.reading);
    groups.set(what, [...(groups.get(what) ?? []), entry]);
  }
  return [...groups.values()];
}

/** Readings that stand of the very thing that a new reading is of. */
export function readingsOfSame(entries: readonly VisitEntry[], reading: Reading): readonly string[] {
  const what = whatIsRead(reading);
  return standing(entries)
    .filter((entry) => whatIsRead(entry.reading) === what)
    .map(({ id }) => id);
}

/** Notes that no later notes replaced; more than one where two people wrote at once. */
export function notesOf(entries: readonly VisitEntry[]): readonly EntryOf<"notes">[] {
  const notes = of(inOrder(entries), "notes");
  const replaced = new Set(notes.flatMap(({ seen }) => seen));
  return notes.filter(({ id }) => !replaced.has(id));
}

function standing(entries: readonly VisitEntry[]): readonly ReadingEntry[] {
  const gone = takenAway(entries);
  return of(inOrder(entries), "reading").filter(({ id }) => !gone.has(id));
}

/** Everything of a reading but what the instrument showed. */
function whatIsRead({ value: _, ...rest }: Reading): string {
  return JSON.stringify(Object.entries(rest).sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** Two readings of the same thing, of which neither writer had the other's before their eyes, and which nobody settled. */
function unknowing(one: ReadingEntry, other: ReadingEntry, settled: ReadonlySet<string>): boolean {
  if (one.id === other.id || one.writer === other.writer) return false;
  if (one.seen.includes(other.id) || other.seen.includes(one.id)) return false;
  return !settled.has(pair(one.id, other.id)) && whatIsRead(one.reading) === whatIsRead(other.reading);
}

function settledPairs(entries: readonly VisitEntry[]): ReadonlySet<string> {
  return new Set(
    of(entries, "keep-all").flatMap((entry) =>
      entry.of.flatMap((one) => entry.of.map((other) => pair(one, other))),
    ),
  );
}

const pair = (one: string, other: string): string => [one, other].sort().join("\n");
