import type { Inverter, Path, Person, Proof, PvArray, Site } from "../assess/site.ts";

/**
 * What the judge of a path needs besides the path: the site it belongs to and the day it is judged for.
 *
 * The engine has no clock. Without `onDate` the age of a proof, a post that ended and an absence cannot be judged, and
 * the findings say so.
 */
export interface PathContext {
  readonly site: Site;
  /** Calendar date at the site, YYYY-MM-DD. */
  readonly onDate?: string;
}

/** The arrays of this site that the path serves; names the site does not know are left out. */
export function arraysServed(path: Path, { site }: PathContext): readonly PvArray[] {
  return site.arrays.filter((array) => path.arrays.includes(array.id));
}

/** The inverters behind the arrays served, each once, in the order of the site file. */
export function invertersServed(path: Path, context: PathContext): readonly Inverter[] {
  const wanted = new Set(arraysServed(path, context).map((array) => array.inverter));
  return context.site.inverters.filter((inverter) => wanted.has(inverter.id));
}

/** The proofs of this path, newest first. */
export function proofsOf(path: Path, { site }: PathContext): readonly Proof[] {
  return site.proofs.filter((proof) => proof.path === path.id).sort((a, b) => b.on.localeCompare(a.on));
}

export function personById(id: string, { site }: PathContext): Person | undefined {
  return site.people.find((person) => person.id === id);
}
