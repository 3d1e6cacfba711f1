import type { Place } from "../address/places.ts";

/** Places that a desk adds while somebody is signed in. */
export const DESK_PLACES: readonly Place[] = [
  { path: "/cases", name: "Cases", does: "earth faults from the first sign to the signed close" },
  { path: "/register", name: "Register", does: "every site that the desk watches" },
  { path: "/messages", name: "Messages", does: "what was said to whom, and whether it arrived" },
  { path: "/people", name: "People", does: "who can sign in" },
];

/** First parts of the addresses that belong to the desk. */
export const DESK_ADDRESSES: ReadonlySet<string> = new Set([
  "join",
  "sign-in",
  "account",
  ...DESK_PLACES.map(({ path }) => path.slice(1)),
]);
