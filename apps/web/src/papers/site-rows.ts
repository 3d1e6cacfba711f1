import type { PaperState, SiteKind } from "./paper-records.ts";

/** Which sites are shown: all, or those where a paper of some kind stands so. */
export interface Asked {
  readonly find: string;
  readonly kind: SiteKind | "any";
  readonly state: PaperState | "any";
}

/** Where the desk answers how the papers of these sites stand, the first so many of them. */
export function statesPath(asked: Asked, rows: number): string {
  return `/api/paper-states?${queryOf(asked, { limit: String(rows) })}`;
}

/** Where the desk names those of them that want a paper. */
export function toMakePath(asked: Asked, paper: SiteKind): string {
  return `/api/paper-states/to-make?${queryOf(asked, { paper })}`;
}

/** What is not asked stands in no address. */
function queryOf({ find, kind, state }: Asked, more: Readonly<Record<string, string>>): string {
  const words = find.trim();
  const query = new URLSearchParams(more);
  if (words !== "") query.set("find", words);
  if (kind !== "any") query.set("kind", kind);
  if (state !== "any") query.set("state", state);
  return query.toString();
}
