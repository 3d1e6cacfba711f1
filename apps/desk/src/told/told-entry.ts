import type { Person, Site } from "@earthbell/engine";
import type { Rung } from "@earthbell/model";

/** By what a person is told on one path. */
export interface OnPath {
  readonly path: string;
  /** Minutes without an answer after which the person is told; null: at once. */
  readonly afterMin: number | null;
  /** Everybody else on the path and its ladder. */
  readonly others: readonly string[];
}

/** One person as one site file has it. */
export interface ToldEntry {
  readonly site: string;
  readonly siteName: string | null;
  readonly revision: number;
  readonly person: Person;
  /** IANA zone of the person's hours and days. */
  readonly zone: string;
  readonly paths: readonly OnPath[];
}

/** The people of a site, each with the message paths by which they are told. */
export function entriesOf(
  site: Pick<Site, "id" | "name" | "place" | "people" | "paths">,
  revision: number,
  ladders: ReadonlyMap<string, readonly Rung[]>,
): readonly ToldEntry[] {
  return site.people.map((person) => ({
    site: site.id,
    siteName: site.name ?? null,
    revision,
    person,
    zone: person.timezone ?? site.place.timezone ?? "UTC",
    paths: site.paths.flatMap((path): OnPath[] => {
      if (path.signal !== "message") return [];
      const rungs = ladders.get(path.id) ?? [];
      const rung = rungs.find(({ to }) => to.includes(person.id));
      const first = path.to.includes(person.id);
      if (!first && rung === undefined) return [];
      const all = new Set([...path.to, ...rungs.flatMap(({ to }) => to)]);
      all.delete(person.id);
      return [{ path: path.id, afterMin: first ? null : rung!.afterMin, others: [...all] }];
    }),
  }));
}
