import type { Address } from "../address/address.ts";
import { askAhead } from "./ask-desk.ts";
import { casePath, casesOfSitePath, drillsOfSitePath, siteLinePath, siteRecordPath } from "./questions.ts";

/** What each page behind the desk is made of, fetched when it is first asked for. */
export const DESK_PARTS = {
  "sign-in": () => import("./sign-in-page.tsx"),
  join: () => import("./join-page.tsx"),
  account: () => import("./account-page.tsx"),
  case: () => import("./case-page.tsx"),
  cases: () => import("./case-list.tsx"),
  register: () => import("./register-page.tsx"),
  "site-file": () => import("./site-file-page.tsx"),
  table: () => import("./register-import-page.tsx"),
  site: () => import("./desk-site-page.tsx"),
  people: () => import("../people/told-page.tsx"),
  person: () => import("../people/told-person-page.tsx"),
  accounts: () => import("./people-page.tsx"),
  papers: () => import("../papers/papers-page.tsx"),
  "site-papers": () => import("../papers/site-papers-page.tsx"),
  commissioning: () => import("../commissioning/commissioning-page.tsx"),
  "setting-sheets": () => import("../papers/setting-sheet-page.tsx"),
  drift: () => import("../drift/drift-page.tsx"),
  look: () => import("./look-page.tsx"),
  settings: () => import("./settings-page.tsx"),
  audit: () => import("./audit-page.tsx"),
  messages: () => import("./messages-page.tsx"),
} as const;

/** The part for an address, where its first word does not name it. */
const OF_ONE = { cases: "case", register: "site", papers: "site-papers", people: "person" } as const;

/** What each page asks the desk first, asked while the page itself is fetched. */
const FIRST_QUESTIONS: Readonly<Record<string, string>> = {
  "": "/api/now",
  register: "/api/sites",
  cases: "/api/case-lines?state=open&limit=100",
  papers: "/api/paper-states?limit=100",
  drift: "/api/drift?by=weight",
  messages: "/api/messages?limit=101",
  people: "/api/told-people?find=&limit=50",
  rules: "/api/rules",
  audit: "/api/journal/rows?limit=100",
};

/** The same for a page about one. */
const OF_ONE_ASKED: Readonly<Record<string, readonly ((which: string) => string)[]>> = {
  cases: [casePath],
  register: [siteLinePath, siteRecordPath, casesOfSitePath, drillsOfSitePath],
};

/** Begins to fetch what the page at an address is made of and shows, before it is known whether somebody is signed in. */
export function fetchDeskPart({ parts: [place = "", which, view], query }: Address): void {
  const first = FIRST_QUESTIONS[place];
  if (which === undefined) {
    // A list that its address narrows asks the desk for other rows; one that is narrowed in the page asks for all.
    if (first !== undefined && (query.size === 0 || !first.includes("?"))) askAhead(first);
  } else if (view === undefined) for (const path of OF_ONE_ASKED[place] ?? []) askAhead(path(which));
  const one = which !== undefined && place in OF_ONE ? OF_ONE[place as keyof typeof OF_ONE] : place;
  // In a turn of its own: naming all its files takes a slow phone a while.
  if (one in DESK_PARTS) setTimeout(() => void DESK_PARTS[one as keyof typeof DESK_PARTS]());
}
