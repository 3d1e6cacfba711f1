import type { Place } from "../address/places.ts";
import { keepsDesk, seesPeople } from "./keeps-desk.ts";
import type { Me } from "./records.ts";

/** Places that a desk adds while somebody is signed in. */
const DESK_PLACES: readonly (Place & { readonly for?: (me: Me) => boolean })[] = [
  { path: "/cases", name: "Cases", does: "earth faults from the first sign to the signed close" },
  { path: "/register", name: "Register", does: "every site that the desk watches" },
  { path: "/papers", name: "Papers", does: "what is given to people: notices, records, reports, registers" },
  { path: "/drift", name: "Drift", does: "where the insulation sinks, and where to go first" },
  { path: "/messages", name: "Messages", does: "what was said to whom, and whether it arrived" },
  {
    path: "/people",
    name: "People",
    does: "who is told, their hours and addresses; accounts",
    for: seesPeople,
  },
  {
    path: "/settings",
    name: "Settings",
    does: "what the desk goes by, and tests of its ways of telling",
    for: keepsDesk,
  },
  { path: "/audit", name: "Audit", does: "everything that was done, by whom and when", for: keepsDesk },
];

/** The places that somebody can do something at. */
export function deskPlacesOf(me: Me | null): readonly Place[] {
  if (me === null) return [];
  return DESK_PLACES.filter((place) => place.for?.(me) ?? true);
}

/** First parts of the addresses that belong to the desk. */
export const DESK_ADDRESSES: ReadonlySet<string> = new Set([
  "join",
  "sign-in",
  "account",
  "site-file",
  "table",
  "setting-sheets",
  "look",
  ...DESK_PLACES.map(({ path }) => path.slice(1)),
]);
