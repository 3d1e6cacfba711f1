import type { Reading, Visit, Volts } from "@earthbell/engine";
import type { HandedVisit, VisitEntry } from "@earthbell/model";
import type { Desk } from "../../apps/web/src/keep/desk.ts";
import type { KeptVisit } from "../../apps/web/src/keep/kept.ts";
import { addEntry, blankVisit } from "../../apps/web/src/keep/kept-entries.ts";

/** What every keeper of visits has to do, as sentences. Each throws what is wrong. Runs in a browser, on its real database. */
export interface Clause {
  readonly sentence: string;
  readonly hold: (desk: Desk, id: string) => Promise<void>;
}

const NOW = "2026-11-25T09:00:00.000Z";
const setUp: Visit = {
  strings: [{ id: "S1", modules: 20 }],
  circuits: [],
  instruments: [{ name: "meter", kind: "voltmeter" }],
  conditions: {},
  readings: [],
  costs: {},
};

/** A visit to a site at the desk, as the page begins one. */
export function begun(id: string, writer = "writer-one"): KeptVisit {
  const place = { site: "keeping", case: null };
  return { ...blankVisit({ id, title: "Hall, A1", now: NOW, setUp }), writer, place };
}

export function withReading(visit: KeptVisit, volts: number, from: "+" | "-" = "-"): KeptVisit {
  const about = { with: "meter", on: "S1", from, to: "earth" } as const;
  const reading: Reading = { kind: "voltage", ...about, value: volts as Volts };
  return addEntry(visit, { kind: "reading", reading, seen: [], recorded: [] }, NOW)[0];
}

export function same(what: string, is: unknown, wanted: unknown): void {
  const [one, other] = [JSON.stringify(is), JSON.stringify(wanted)];
  if (one !== other) throw new Error(`${what}: ${one} where ${other} was wanted`);
}

export const voltsOf = (visit: KeptVisit | null): readonly number[] =>
  (visit?.visit.readings ?? []).map(({ value }) => value);

async function photoBytes(desk: Desk, visit: string): Promise<readonly (readonly number[])[]> {
  const photos = await desk.photos.of(visit);
  return await Promise.all(photos.map(async ({ image }) => [...new Uint8Array(await image.arrayBuffer())]));
}

const handed = (id: string, entries: readonly VisitEntry[]): HandedVisit => ({
  ...{ id, title: "Hall, A1", site: "keeping", case: null, begunAt: Date.parse(NOW), setUp },
  ...{ by: "Ben Orr", entries, photos: [] },
});

export const CLAUSES: readonly Clause[] = [
  {
    sentence: "gives a visit back as it was kept, and nothing for one that was not",
    hold: async (desk, id) => {
      const visit = withReading(begun(id), 205);
      await desk.visits.keep(visit);
      const back = await desk.visits.one(id);
      same("readings", voltsOf(back), [205]);
      same("set-up", back?.setUp, setUp);
      same("in the list", (await desk.visits.all()).filter((one) => one.id === id).length, 1);
      same("nothing", await desk.visits.one(`${id}-other`), null);
    },
  },
  {
    sentence: "keeps the entries of two pages that wrote without seeing each other, each once",
    hold: async (desk, id) => {
      await desk.visits.keep(begun(id));
      const one = withReading(begun(id, "writer-one"), 205);
      const two = withReading(begun(id, "writer-two"), 535, "+");
      await Promise.all([desk.visits.keep(one), desk.visits.keep(two), desk.visits.keep(one)]);
      const back = await desk.visits.one(id);
      same("readings", voltsOf(back).toSorted(), [205, 535]);
      same("entries", back?.entries.length, 2);
    },
  },
  {
    sentence: "takes in what others entered and leaves a person where they stand",
    hold: async (desk, id) => {
      await desk.visits.keep({ ...withReading(begun(id), 205), typed: "53", taken: 1 });
      const others = withReading(begun(id, "writer-two"), 535, "+").entries;
      const named = others.map((entry) => ({ ...entry, by: "Ben Orr" }));
      await desk.visits.takeIn(handed(id, named));
      await desk.visits.takeIn(handed(id, named));
      const back = await desk.visits.one(id);
      same("readings", voltsOf(back).toSorted(), [205, 535]);
      same("where they stand", [back?.typed, back?.taken, back?.known], ["53", 1, true]);
    },
  },
  {
    sentence: "begins a visit here that others have begun",
    hold: async (desk, id) => {
      const others = withReading(begun(id, "writer-two"), 535, "+").entries;
      await desk.visits.takeIn(handed(id, others));
      const back = await desk.visits.one(id);
      same("readings", voltsOf(back), [535]);
      same("place", back?.place, { site: "keeping", case: null });
    },
  },
  {
    sentence: "gives a photo back byte by byte, and not after it was removed",
    hold: async (desk, id) => {
      await desk.visits.keep(begun(id));
      const bytes = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 255];
      const image = new Blob([new Uint8Array(bytes)], { type: "image/png" });
      await desk.photos.keep({ id: `${id}-p`, visit: id, taken: NOW, name: "a.png", image, sent: false });
      same("bytes", await photoBytes(desk, id), [bytes]);
      await desk.photos.remove(`${id}-p`);
      same("photos", await photoBytes(desk, id), []);
    },
  },
  {
    sentence: "tells those who watch of each change, and not once they have stopped",
    hold: async (desk, id) => {
      let told = 0;
      const stop = desk.watch(() => {
        told += 1;
      });
      await desk.visits.keep(begun(id));
      const [once] = [told];
      stop();
      await desk.visits.keep(withReading(begun(id), 205));
      if (once === 0) throw new Error("nobody was told");
      same("told after stopping", told, once);
    },
  },
  {
    sentence: "forgets a visit that was removed from the device",
    hold: async (desk, id) => {
      await desk.visits.keep({ ...begun(id), place: null });
      await desk.visits.remove(id);
      same("visit", await desk.visits.one(id), null);
    },
  },
];
