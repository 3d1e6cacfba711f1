import type { Asking } from "../store/index.ts";
import { othersFirst } from "../others-first.ts";
import { ofSites, type Seen } from "./bound-to.ts";

/** What a list says of a site file. */
export interface SiteName {
  readonly id: string;
  readonly name: string | null;
  readonly arrays: number;
  readonly revision: number;
  readonly putAt: number;
  readonly putBy: string;
}

/** Sites that are read before other work of the desk gets its turn: well below a hundredth of a second. */
const AT_ONCE = 500;

/** The sites of a desk a portion at a time, in the order of their ids. A site file is read once for each of its revisions. */
class SiteNames {
  readonly #read = new Map<
    string,
    { readonly revision: number; readonly name: string | null; readonly arrays: number }
  >();

  constructor(private readonly db: Asking) {}

  async *portions(seen: Seen): AsyncGenerator<readonly SiteName[]> {
    if (seen === null)
      for (let after = ""; ; ) {
        const portion = await this.#portion(null, after);
        yield portion;
        if (portion.length < AT_ONCE) return;
        after = portion.at(-1)!.id;
        await othersFirst();
      }
    else
      for (let from = 0; from < seen.length; from += AT_ONCE) {
        yield await this.#portion(seen.slice(from, from + AT_ONCE), "");
        await othersFirst();
      }
  }

  /** Names of single sites; one that has none, or is not watched any more, goes by its id. */
  async namesOf(sites: Iterable<string>): Promise<Readonly<Record<string, string>>> {
    const names: Record<string, string> = {};
    const asked = [...new Set(sites)].toSorted();
    for await (const portion of this.portions(asked))
      for (const { id, name } of portion) if (name !== null) names[id] = name;
    return names;
  }

  async #portion(seen: Seen, after: string): Promise<readonly SiteName[]> {
    const rows = await this.db
      .selectFrom("site")
      .select(["id", "revision", "put_at", "put_by"])
      .where("removed_at", "is", null)
      .where("id", ">", after)
      .where(ofSites(seen, "id"))
      .orderBy("id")
      .limit(AT_ONCE)
      .execute();
    await this.#learn(
      rows.flatMap(({ id, revision }) => (this.#read.get(id)?.revision === revision ? [] : [id])),
    );
    return rows.map(({ id, revision, put_at: putAt, put_by: putBy }) => {
      const { name = null, arrays = 0 } = this.#read.get(id) ?? {};
      return { id, name, arrays, revision, putAt, putBy };
    });
  }

  async #learn(sites: readonly string[]): Promise<void> {
    if (sites.length === 0) return;
    const rows = await this.db
      .selectFrom("site")
      .select(["id", "revision", "site_json"])
      .where("id", "in", sites)
      .execute();
    for (const { id, revision, site_json } of rows) {
      const { name = null, arrays } = JSON.parse(site_json) as {
        readonly name?: string;
        readonly arrays: readonly unknown[];
      };
      this.#read.set(id, { revision, name, arrays: arrays.length });
    }
  }
}

const OF_STORE = new WeakMap<Asking, SiteNames>();

/** The names of a store's sites, read once for all who ask. */
export function siteNamesOf(db: Asking): SiteNames {
  const known = OF_STORE.get(db) ?? new SiteNames(db);
  OF_STORE.set(db, known);
  return known;
}
