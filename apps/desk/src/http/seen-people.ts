import { type Bearer, sees } from "../accounts/access.ts";
import type { SitePeople } from "../told/site-people.ts";
import type { ToldEntry } from "../told/told-entry.ts";
import { togetherByAddress, type ToldPerson } from "../told/told-people.ts";
import type { DeskParts } from "./desk-parts.ts";
import { RequestFault } from "./request-fault.ts";

/** @throws RequestFault REQUEST_UNKNOWN */
export async function personOf(
  of: { readonly site: string; readonly person: string },
  caller: Bearer,
  parts: DeskParts,
  people: SitePeople,
): Promise<ToldPerson> {
  const all = await seenBy(caller, parts, people);
  const one = all.find(({ entries }) =>
    entries.some((entry) => entry.site === of.site && entry.person.id === of.person),
  );
  if (one !== undefined) return one;
  throw new RequestFault("REQUEST_UNKNOWN", `No site file that you may see has ${of.person} at ${of.site}.`);
}

/** Put together from what the caller may see only: an address elsewhere joins nobody. */
export async function seenBy(
  caller: Bearer,
  { store }: DeskParts,
  people: SitePeople,
): Promise<readonly ToldPerson[]> {
  const entries = await people.read(store.db);
  if (caller.sites !== null) return togetherByAddress(entries.filter(({ site }) => sees(caller, site)));
  const known = everybody.get(entries) ?? togetherByAddress(entries);
  everybody.set(entries, known);
  return known;
}

/** Put together once for all who see every site, as long as nothing changes. */
const everybody = new WeakMap<readonly ToldEntry[], Promise<readonly ToldPerson[]>>();
