import type { Site } from "@earthbell/engine";
import type { Rung } from "@earthbell/model";
import { eachInTurn, othersFirst } from "../others-first.ts";
import type { Asking } from "../store/index.ts";
import { entriesOf, type ToldEntry } from "./told-entry.ts";

/** Sites between which others go first. */
const AT_ONCE = 200;

type Held = Pick<Site, "id" | "name" | "place" | "people" | "paths">;

interface Kept {
  readonly revision: number;
  readonly site: Held;
  /** The ladders that the entries were made with, as they are stored. */
  ladders: readonly string[];
  entries: readonly ToldEntry[];
}

/** The people of every site file, by site. Of a fleet only what has changed since is read again. */
export interface SitePeople {
  /** The very list that was given before, as long as nothing has changed. */
  read(db: Asking): Promise<readonly ToldEntry[]>;
}

export function sitePeople(): SitePeople {
  let held = new Map<string, Kept>();
  let given: readonly ToldEntry[] = [];
  const readNow = async (db: Asking): Promise<readonly ToldEntry[]> => {
    const lines = await db
      .selectFrom("site")
      .select(["id", "revision"])
      .where("removed_at", "is", null)
      .orderBy("id")
      .execute();
    const fresh = await freshOf(
      db,
      lines.filter(({ id, revision }) => held.get(id)?.revision !== revision).map(({ id }) => id),
    );
    const ladders = await laddersOf(db);
    const now = new Map<string, Kept>();
    let changed = fresh.size > 0 || lines.length !== held.size;
    await eachInTurn(lines, AT_ONCE, ({ id }) => {
      const one = fresh.get(id) ?? held.get(id);
      if (one === undefined) return;
      changed = refresh(one, ladders.get(id) ?? []) || changed;
      now.set(id, one);
    });
    held = now;
    if (changed) given = [...now.values()].flatMap(({ entries }) => entries);
    return given;
  };
  let last: Promise<unknown> = Promise.resolve();
  return {
    // One after another: a reading that finds nothing changed gives what the one before it made.
    read: (db) => {
      const own = last.then(() => readNow(db));
      last = own.catch(() => null);
      return own;
    },
  };
}

async function freshOf(db: Asking, ids: readonly string[]): Promise<ReadonlyMap<string, Kept>> {
  const fresh = new Map<string, Kept>();
  for (let from = 0; from < ids.length; from += AT_ONCE) {
    const rows = await db
      .selectFrom("site")
      .select(["id", "revision", "site_json"])
      .where("id", "in", ids.slice(from, from + AT_ONCE))
      .execute();
    for (const { id, revision, site_json } of rows) {
      const site = heldOf(site_json);
      fresh.set(id, { revision, site, ladders: [], entries: entriesOf(site, revision, new Map()) });
    }
    await othersFirst();
  }
  return fresh;
}

/** Makes the entries again where other ladders stand now, and says whether. */
function refresh(one: Kept, ladders: readonly LadderText[]): boolean {
  const texts = ladders.flatMap(({ path, rungs }) => [path, rungs]);
  if (texts.length === one.ladders.length && texts.every((text, at) => text === one.ladders[at]))
    return false;
  const rungs = ladders.map(({ path, rungs }) => [path, JSON.parse(rungs) as readonly Rung[]] as const);
  one.ladders = texts;
  one.entries = entriesOf(one.site, one.revision, new Map(rungs));
  return true;
}

function heldOf(text: string): Held {
  const { id, name, place, people, paths } = JSON.parse(text) as Site;
  return { id, place, people, paths, ...(name === undefined ? {} : { name }) };
}

interface LadderText {
  readonly path: string;
  readonly rungs: string;
}

async function laddersOf(db: Asking): Promise<ReadonlyMap<string, readonly LadderText[]>> {
  const rows = await db
    .selectFrom("ladder")
    .select(["site", "path_id as path", "rungs_json as rungs"])
    .orderBy("site")
    .orderBy("path_id")
    .execute();
  const ladders = new Map<string, LadderText[]>();
  await eachInTurn(rows, AT_ONCE, ({ site, ...text }) => {
    const own = ladders.get(site);
    if (own === undefined) ladders.set(site, [text]);
    else own.push(text);
  });
  return ladders;
}
