import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { Desk, Shelf } from "./desk.ts";
import { mergeHanded, mergeKept } from "./kept-entries.ts";
import type { KeptForm, KeptPhoto, KeptScore, KeptSite, KeptVisit } from "./kept.ts";

interface Records extends DBSchema {
  visits: { key: string; value: KeptVisit };
  sites: { key: string; value: KeptSite };
  scores: { key: number; value: KeptScore };
  forms: { key: string; value: KeptForm };
  photos: { key: string; value: KeptPhoto; indexes: { visit: string } };
}

const VERSION = 3;
let opened: Promise<IDBPDatabase<Records>> | null = null;

function records(): Promise<IDBPDatabase<Records>> {
  opened ??= openDB<Records>("earthbell", VERSION, {
    // A newer version adds; what a device keeps may be the only copy of a visit.
    upgrade(database, before) {
      if (before < 2) {
        for (const name of database.objectStoreNames) database.deleteObjectStore(name);
        database.createObjectStore("visits", { keyPath: "id" });
        database.createObjectStore("sites", { keyPath: "id" });
        database.createObjectStore("scores", { keyPath: "exercise" });
        database.createObjectStore("photos", { keyPath: "id" }).createIndex("visit", "visit");
      }
      database.createObjectStore("forms", { keyPath: "id" });
    },
    // A tab that runs an older version must not hold up a newer one for ever.
    blocking: (_, __, event) => {
      (event.target as IDBDatabase).close();
      opened = null;
    },
  });
  return opened;
}

const news = new BroadcastChannel("earthbell:records");
const listeners = new Set<() => void>();
news.addEventListener("message", () => {
  for (const heard of listeners) heard();
});

function tell(): void {
  news.postMessage("changed");
  for (const heard of listeners) heard();
}

/** Written with strict durability: a phone that dies a second later has the reading. */
const STRICT = { durability: "strict" } as const;

function shelf<Name extends "visits" | "sites" | "scores" | "forms">(
  name: Name,
): Shelf<Records[Name]["value"], Records[Name]["key"]> {
  return {
    all: async () => await (await records()).getAll(name),
    one: async (key) => (await (await records()).get(name, key)) ?? null,
    keep: async (item) => {
      const work = (await records()).transaction(name, "readwrite", STRICT);
      await Promise.all([work.store.put(item), work.done]);
      tell();
    },
    remove: async (key) => {
      await (await records()).delete(name, key);
      tell();
    },
  };
}

/** Changes one kept visit in one transaction, so that nothing another tab wrote in between is lost. */
async function changeVisit(id: string, how: (stored: KeptVisit | undefined) => KeptVisit): Promise<void> {
  const work = (await records()).transaction("visits", "readwrite", STRICT);
  await work.store.put(how(await work.store.get(id)));
  await work.done;
  tell();
}

/** This device alone: everything in its own database, nothing sent anywhere. */
export const deviceDesk: Desk = {
  visits: {
    ...shelf("visits"),
    here: shelf("visits").one,
    keep: (item) => changeVisit(item.id, (stored) => (stored === undefined ? item : mergeKept(item, stored))),
    takeIn: (handed) => changeVisit(handed.id, (stored) => mergeHanded(stored, handed)),
  },
  sites: shelf("sites"),
  scores: shelf("scores"),
  forms: shelf("forms"),
  photos: {
    of: async (visit) => await (await records()).getAllFromIndex("photos", "visit", visit),
    keep: async (photo) => {
      const work = (await records()).transaction("photos", "readwrite", STRICT);
      await Promise.all([work.store.put(photo), work.done]);
      tell();
    },
    remove: async (id) => {
      await (await records()).delete("photos", id);
      tell();
    },
  },
  watch: (changed) => {
    listeners.add(changed);
    return () => {
      listeners.delete(changed);
    };
  },
};
