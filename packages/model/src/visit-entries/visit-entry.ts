import type { Reading } from "@earthbell/engine";

/**
 * One thing that somebody did on a visit. Entries are only ever added, so that two people on two phones, without signal, can
 * write at once and lose nothing: putting their entries together in any order, any number of times, gives the same visit.
 */
export type VisitEntry = EntryStamp & EntryBody;

export interface EntryStamp {
  /** The same everywhere, for ever; sent twice it is the same entry. */
  readonly id: string;
  /** Who counted it: one open page of one device. */
  readonly writer: string;
  /** Its number among the entries of that writer, from 1. */
  readonly n: number;
  /** When it was entered, by the clock of the device [ms since 1970, UTC]. */
  readonly at: number;
  /** The person, as the desk knows them; null until the desk has taken it in. */
  readonly by: string | null;
}

export type EntryBody =
  | {
      readonly kind: "reading";
      readonly reading: Reading;
      /** Readings of the same thing that stood before the writer's eyes: this one repeats them on purpose. */
      readonly seen: readonly string[];
      /** Safety preconditions that were ticked when it was taken. */
      readonly recorded: readonly string[];
    }
  /** A reading or a photo is taken away. */
  | { readonly kind: "drop"; readonly of: string }
  /** A drop or a choice is taken back. */
  | { readonly kind: "restore"; readonly of: string }
  /** Of readings that contradict each other one stands, and those others do not. */
  | { readonly kind: "choose"; readonly of: string; readonly over: readonly string[] }
  /** Somebody looked at readings that contradict each other: each stands, as a reading of its own. */
  | { readonly kind: "keep-all"; readonly of: readonly string[] }
  /** The notes from here on, in place of those seen. */
  | { readonly kind: "notes"; readonly text: string; readonly seen: readonly string[] }
  /** What the readings say, put on record. */
  | { readonly kind: "found"; readonly text: string };

export type EntryOf<Kind extends EntryBody["kind"]> = EntryStamp &
  Extract<EntryBody, { readonly kind: Kind }>;

/** The next entry of a writer. */
export function nextEntry(
  entries: readonly VisitEntry[],
  writer: string,
  at: number,
  body: EntryBody,
): VisitEntry {
  const n =
    entries.reduce((most, entry) => (entry.writer === writer ? Math.max(most, entry.n) : most), 0) + 1;
  return { id: `${writer}-${String(n)}`, writer, n, at, by: null, ...body };
}

/** By time, then by writer, then as the writer counted: the same order wherever it is sorted. */
export function inOrder(entries: readonly VisitEntry[]): readonly VisitEntry[] {
  return entries.toSorted(
    (a, b) => a.at - b.at || compare(a.writer, b.writer) || a.n - b.n || compare(a.id, b.id),
  );
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Both together, each entry once. One that the desk has taken in counts before one that it has not. */
export function mergeEntries(
  own: readonly VisitEntry[],
  others: readonly VisitEntry[],
): readonly VisitEntry[] {
  const byId = new Map<string, VisitEntry>();
  for (const entry of [...own, ...others]) {
    const known = byId.get(entry.id);
    if (known === undefined || known.by === null) byId.set(entry.id, entry);
  }
  return inOrder([...byId.values()]);
}
