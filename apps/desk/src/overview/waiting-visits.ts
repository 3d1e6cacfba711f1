import { byWeight, type RankedArray } from "@earthbell/engine";
import type { Alarm } from "@earthbell/model";
import type { Asking } from "../store/index.ts";
import type { Seen } from "./bound-to.ts";
import { Foremost } from "./foremost.ts";

/** An array that its insulation history says somebody has to go to. */
export interface VisitBrief {
  readonly site: string;
  readonly array: string;
  readonly why: string;
  readonly by: string;
  /** It was below its threshold on its newest morning. */
  readonly below: boolean;
  /** Since when the watch sees its insulation sink as well [ms]; null where it does not. */
  readonly sinkingSince: number | null;
}

interface Around {
  readonly most: number;
  /** Arrays, as `site/array`, with a fault that is there: their cases speak of them. */
  readonly withFault: ReadonlySet<string>;
  /** Active signs of the watch that insulation sinks, by `site/array`. */
  readonly sinking: ReadonlyMap<string, Alarm>;
}

/** The foremost arrays that are worth a visit, in the order of the ranking, and how many more there are. */
export async function waitingVisits(
  db: Asking,
  seen: Seen,
  due: ReadonlyMap<string, RankedArray>,
  { most, withFault, sinking }: Around,
): Promise<{ readonly first: readonly VisitBrief[]; readonly more: number }> {
  const sites = seen === null ? null : new Set(seen);
  const foremost = new Foremost<RankedArray>(most, byWeight);
  for (const one of due.values())
    if (one.site !== null && (sites === null || sites.has(one.site)) && !withFault.has(one.array))
      foremost.add(one);
  const watched = await watchedOf(db, foremost.first);
  const first = foremost.first.flatMap(({ array: key, site, visit, headline }): VisitBrief[] => {
    if (site === null || visit === null || !watched.has(site)) return [];
    const [array, below] = [key.slice(site.length + 1), headline.reached === "newest"];
    return [{ site, array, ...visit, below, sinkingSince: sinking.get(key)?.activeAt ?? null }];
  });
  return { first, more: foremost.more };
}

/** A site that is not watched any more is forgotten by the reader of histories only after a while. */
async function watchedOf(db: Asking, arrays: readonly RankedArray[]): Promise<ReadonlySet<string>> {
  const sites = arrays.flatMap(({ site }) => site ?? []);
  if (sites.length === 0) return new Set();
  const rows = await db
    .selectFrom("site")
    .select("id")
    .where("id", "in", sites)
    .where("removed_at", "is", null)
    .execute();
  return new Set(rows.map(({ id }) => id));
}
