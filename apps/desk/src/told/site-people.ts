import type { Site } from "@earthbell/engine";
import type { Rung } from "@earthbell/model";
import type { Asking } from "../store/index.ts";
import { entriesOf, type ToldEntry } from "./told-entry.ts";

const AT_ONCE = 200;

type Held = Pick<Site, "id" | "name" | "place" | "people" | "paths">;

/** The people of every site file, by site. Of a fleet only the files that have changed since are read again. */
export interface SitePeople {
  read(db: Asking): Promise<readonly ToldEntry[]>;
}

export function sitePeople(): SitePeople {
  let held = new Map<string, { readonly revision: number; readonly site: Held }>();
  return {
    read: async (db) => {
      const lines = await db
        .selectFrom("site")
        .select(["id", "revision"])
        .where("removed_at", "is", null)
        .orderBy("id")
        .execute();
      const stale = lines.filter(({ id, revision }) => held.get(id)?.revision !== revision);
      const fresh = new Map<string, { readonly revision: number; readonly site: Held }>();
      for (let from = 0; from < stale.length; from += AT_ONCE) {
        const ids = stale.slice(from, from + AT_ONCE).map(({ id }) => id);
        const rows = await db
          .selectFrom("site")
          .select(["id", "revision", "site_json"])
          .where("id", "in", ids)
          .execute();
        for (const { id, revision, site_json } of rows) fresh.set(id, { revision, site: heldOf(site_json) });
        await othersFirst();
      }
      const now = lines.flatMap(({ id }) => {
        const one = fresh.get(id) ?? held.get(id);
        return one === undefined ? [] : [[id, one] as const];
      });
      held = new Map(now);
      const ladders = await laddersOf(db);
      return now.flatMap(([id, { site, revision }]) =>
        entriesOf(site, revision, ladders.get(id) ?? new Map()),
      );
    },
  };
}

function heldOf(text: string): Held {
  const { id, name, place, people, paths } = JSON.parse(text) as Site;
  return { id, place, people, paths, ...(name === undefined ? {} : { name }) };
}

/** Lets what waits run between two parts of a long reading. */
function othersFirst(): Promise<void> {
  return new Promise((resolve) => {
    setImmediate(resolve);
  });
}

type Ladders = ReadonlyMap<string, ReadonlyMap<string, readonly Rung[]>>;

async function laddersOf(db: Asking): Promise<Ladders> {
  const rows = await db.selectFrom("ladder").select(["site", "path_id", "rungs_json"]).execute();
  const ladders = new Map<string, Map<string, readonly Rung[]>>();
  for (const { site, path_id, rungs_json } of rows) {
    const own = ladders.get(site) ?? new Map<string, readonly Rung[]>();
    own.set(path_id, JSON.parse(rungs_json) as readonly Rung[]);
    ladders.set(site, own);
  }
  return ladders;
}
