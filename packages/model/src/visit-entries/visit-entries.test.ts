import type { Reading, Volts } from "@earthbell/engine";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  conflictsOf,
  type EntryBody,
  mergeEntries,
  nextEntry,
  notesOf,
  standingReadings,
  readingsOfSame,
  type VisitEntry,
} from "./index.ts";

const volts = (value: number, from: "+" | "-" = "-"): Reading => ({
  kind: "voltage",
  with: "meter",
  on: "S1",
  from,
  to: "earth",
  value: value as Volts,
});
const read = (reading: Reading, seen: readonly string[] = []): EntryBody => ({
  kind: "reading",
  reading,
  seen,
  recorded: [],
});

/** Writes entries one after the other, as one open page does. */
function wrote(writer: string, at: number, bodies: readonly EntryBody[], before: readonly VisitEntry[] = []) {
  return bodies.reduce<readonly VisitEntry[]>(
    (entries, body, i) => [...entries, nextEntry(entries, writer, at + i, body)],
    before,
  );
}
const values = (entries: readonly VisitEntry[]): readonly number[] =>
  standingReadings(entries).map(({ reading }) => reading.value);

describe("two phones that had no signal", () => {
  it("come together with every reading of both, in the order taken", () => {
    const ann = wrote("ann", 100, [read(volts(205, "-"))]);
    const ben = wrote("ben", 50, [read(volts(535, "+"))]);
    expect(values(mergeEntries(ann, ben))).toEqual([535, 205]);
  });

  it("that read the same thing differently leave both readings for a person to choose", () => {
    const both = mergeEntries(wrote("ann", 1, [read(volts(205))]), wrote("ben", 2, [read(volts(250))]));
    expect(conflictsOf(both).map((group) => group.map(({ reading }) => reading.value))).toEqual([[205, 250]]);
    const chosen = wrote("ann", 3, [{ kind: "choose", of: "ben-1", over: ["ann-1"] }], both);
    expect([values(chosen), conflictsOf(chosen)]).toEqual([[250], []]);
    const kept = wrote("ben", 4, [{ kind: "keep-all", of: ["ann-1", "ben-1"] }], both);
    expect([values(kept), conflictsOf(kept)]).toEqual([[205, 250], []]);
  });

  it("that chose against each other have lost neither reading, and are asked again", () => {
    const both = mergeEntries(wrote("ann", 1, [read(volts(205))]), wrote("ben", 2, [read(volts(250))]));
    const annChose = wrote("ann", 3, [{ kind: "choose", of: "ann-1", over: ["ben-1"] }], both);
    const benChose = wrote("ben", 3, [{ kind: "choose", of: "ben-1", over: ["ann-1"] }], both);
    const merged = mergeEntries(annChose, benChose);
    expect(values(merged)).toEqual([205, 250]);
    expect(conflictsOf(merged)).toHaveLength(1);
  });

  it("that typed the same value of the same thing count it once", () => {
    const both = mergeEntries(wrote("ann", 1, [read(volts(205))]), wrote("ben", 2, [read(volts(205))]));
    expect([values(both), conflictsOf(both)]).toEqual([[205], []]);
  });

  it("keep both notes until somebody has seen both", () => {
    const note = (text: string, seen: readonly string[] = []): EntryBody => ({ kind: "notes", text, seen });
    const both = mergeEntries(
      wrote("ann", 1, [note("clip broken")]),
      wrote("ben", 2, [note("cable chafed")]),
    );
    expect(notesOf(both).map(({ text }) => text)).toEqual(["clip broken", "cable chafed"]);
    const one = wrote("ann", 3, [note("clip broken, cable chafed", ["ann-1", "ben-1"])], both);
    expect(notesOf(one).map(({ text }) => text)).toEqual(["clip broken, cable chafed"]);
  });
});

describe("a reading", () => {
  it("repeated by somebody who saw the first one is a second reading, not a contradiction", () => {
    const first = wrote("ann", 1, [read(volts(205))]);
    const again = wrote("ben", 2, [read(volts(206), readingsOfSame(first, volts(206)))], first);
    expect([values(again), conflictsOf(again)]).toEqual([[205, 206], []]);
  });

  it("taken away is gone, and is back in its place when that is taken back", () => {
    const two = wrote("ann", 1, [read(volts(205)), read(volts(535, "+"))]);
    const less = wrote("ann", 3, [{ kind: "drop", of: "ann-1" }], two);
    expect(values(less)).toEqual([535]);
    expect(values(wrote("ann", 4, [{ kind: "restore", of: "ann-3" }], less))).toEqual([205, 535]);
  });
});

const writers = fc.constantFrom("a", "b", "c");
const body: fc.Arbitrary<EntryBody> = fc.oneof(
  fc
    .tuple(fc.integer({ min: 1, max: 3 }), fc.constantFrom("+" as const, "-" as const))
    .map(([value, from]) => read(volts(value, from))),
  fc
    .tuple(writers, fc.integer({ min: 1, max: 6 }))
    .map(([writer, n]) => ({ kind: "drop", of: `${writer}-${String(n)}` }) as const),
  fc
    .tuple(writers, fc.integer({ min: 1, max: 6 }))
    .map(([writer, n]) => ({ kind: "restore", of: `${writer}-${String(n)}` }) as const),
);
/** Everything that three writers ever wrote, of which each phone has some part. */
const history = fc
  .array(fc.tuple(writers, fc.integer({ min: 0, max: 5 }), body), { maxLength: 20 })
  .map((steps) =>
    steps.reduce<readonly VisitEntry[]>(
      (entries, [writer, at, what]) => [...entries, nextEntry(entries, writer, at, what)],
      [],
    ),
  );
const part = (entries: readonly VisitEntry[], mask: number): readonly VisitEntry[] =>
  entries.filter((_, i) => ((mask >> (i % 30)) & 1) === 1);
const mask = fc.integer({ min: 0, max: 2 ** 30 - 1 });

describe("putting entries together", () => {
  it("gives the same whatever the order and however often", () => {
    fc.assert(
      fc.property(history, mask, mask, mask, (all, one, two, three) => {
        const [a, b, c] = [part(all, one), part(all, two), part(all, three)] as const;
        const merged = mergeEntries(mergeEntries(a, b), c);
        expect(mergeEntries(a, mergeEntries(b, c))).toEqual(merged);
        expect(mergeEntries(mergeEntries(c, b), a)).toEqual(merged);
        expect(mergeEntries(merged, merged)).toEqual(merged);
        expect(standingReadings(merged)).toEqual(standingReadings([...merged].reverse()));
      }),
    );
  });

  it("loses no entry and doubles none", () => {
    fc.assert(
      fc.property(history, mask, mask, (all, one, two) => {
        const merged = mergeEntries(part(all, one), part(all, two));
        const wanted = new Set([...part(all, one), ...part(all, two)].map(({ id }) => id));
        expect(new Set(merged.map(({ id }) => id))).toEqual(wanted);
        expect(merged).toHaveLength(wanted.size);
      }),
    );
  });

  it("keeps the name that the desk has put to an entry", () => {
    const own = wrote("ann", 1, [read(volts(205))]);
    const known = own.map((entry) => ({ ...entry, by: "Ann Lee" }));
    expect([mergeEntries(own, known)[0]?.by, mergeEntries(known, own)[0]?.by]).toEqual([
      "Ann Lee",
      "Ann Lee",
    ]);
  });
});
