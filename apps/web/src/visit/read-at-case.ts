import { cautionsFor } from "@earthbell/engine";
import type { KeptVisit } from "../keep/kept.ts";

/** In the memory of this page alone: somebody else who opens the same address, or this person after a reload, reads them all. */
const readAt = new Map<string, string>();

/** Somebody says that the cautions of a case are read, and goes on to its visit. `now`: instant, ISO 8601 in UTC. */
export function readAtCase(of: string, now: string): void {
  readAt.set(of, now);
}

/** What a visit of that case begins with as read. */
export function alreadyRead(of: string | null): KeptVisit["read"] {
  const at = of === null ? undefined : readAt.get(of);
  return at === undefined ? {} : Object.fromEntries(cautionsFor("arrive").map(({ id }) => [id, at]));
}
