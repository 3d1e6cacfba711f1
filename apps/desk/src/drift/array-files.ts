import type { FleetTrait, Site } from "@earthbell/engine";
import type { ArrayLimits } from "@earthbell/model";
import type { DeskStore } from "../store/index.ts";

/** What a site file says of its arrays. */
interface FileRead {
  readonly digest: string;
  readonly limits: Readonly<Record<string, ArrayLimits>>;
  /** By the id of the array. */
  readonly traits: Readonly<Record<string, ArrayTraits>>;
}

/** What an array may have in common with others. */
export type ArrayTraits = Readonly<Partial<Record<FleetTrait, string>>>;

/** What is to be known of arrays beside their readings; each site file is read once for each of its revisions. */
export class ArrayFiles {
  readonly #files = new Map<string, FileRead>();

  constructor(private readonly store: DeskStore) {}

  of(site: string): FileRead | undefined {
    return this.#files.get(site);
  }

  /** Reads the files that have changed since they were last read. */
  async read(sites: readonly string[]): Promise<void> {
    const { db } = this.store;
    const rows = await db.selectFrom("site").select(["id", "digest"]).where("id", "in", sites).execute();
    const changed = rows.flatMap(({ id, digest }) => (this.#files.get(id)?.digest === digest ? [] : [id]));
    if (changed.length === 0) return;
    const files = await db
      .selectFrom("site")
      .select(["id", "digest", "site_json", "limits_json"])
      .where("id", "in", changed)
      .execute();
    for (const { id, digest, site_json, limits_json } of files) {
      const site = JSON.parse(site_json) as Site;
      const traits = Object.fromEntries(
        site.arrays.map((one) => [one.id, { site: id, ...traitsOf(site, one.id) }]),
      );
      const limits = JSON.parse(limits_json) as Record<string, ArrayLimits>;
      this.#files.set(id, { digest, limits, traits });
    }
  }
}

/** What the site file says that arrays may have in common. */
function traitsOf({ arrays, place }: Site, id: string): ArrayTraits {
  const array = arrays.find((one) => one.id === id);
  const region = place.region === undefined ? place.country : `${place.country} ${place.region}`;
  return { ...(array === undefined ? {} : { module: array.module }), place: region };
}
