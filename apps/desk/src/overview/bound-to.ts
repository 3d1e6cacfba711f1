import { type RawBuilder, sql } from "kysely";
import { othersFirst } from "../others-first.ts";
import type { Asking } from "../store/index.ts";

/** Sites that somebody may see; null for all. */
export type Seen = readonly string[] | null;

/** As part of a question to the store: of these sites alone, so that a limit counts what may be shown and nothing else. */
export function ofSites(seen: Seen, column: "site" | "id" = "site"): RawBuilder<boolean> {
  if (seen === null) return sql<boolean>`1 = 1`;
  if (seen.length === 0) return sql<boolean>`1 = 0`;
  return sql<boolean>`${sql.ref(column)} in (${sql.join(seen)})`;
}

/** Ids of the sites that are watched, so many at a time and in order, with the part of a question that asks for just those. */
export async function* sitePortions(
  db: Asking,
  seen: Seen,
  atOnce: number,
): AsyncGenerator<{ readonly ids: readonly string[]; readonly own: RawBuilder<boolean> }> {
  for (let after = ""; ; ) {
    const rows = await db
      .selectFrom("site")
      .select("id")
      .where("removed_at", "is", null)
      .where("id", ">", after)
      .where(ofSites(seen, "id"))
      .orderBy("id")
      .limit(atOnce)
      .execute();
    const ids = rows.map(({ id }) => id);
    if (ids.length === 0) return;
    after = ids.at(-1)!;
    const own = seen === null ? sql<boolean>`site between ${ids[0]!} and ${after}` : ofSites(ids);
    yield { ids, own };
    if (ids.length < atOnce) return;
    await othersFirst();
  }
}
