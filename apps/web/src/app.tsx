import { lazy, Suspense, useEffect, useRef } from "react";
import { type Address, useAddress } from "./address/address.ts";
import { DESK_ADDRESSES } from "./desk/desk-places.ts";
import { fetchDeskPart } from "./desk/desk-parts.ts";
import { Home } from "./desk/home.tsx";
import { maySignIn } from "./desk/session.ts";
import { Announcer } from "./page/announce.tsx";
import { Mishap } from "./page/mishap.tsx";
import { Page } from "./page/page.tsx";
import { TopLine } from "./page/top-line.tsx";

/** What each page is made of, fetched when it is first asked for. */
const PARTS = {
  today: () => import("./today/today.tsx"),
  visits: () => import("./visit/visit-list.tsx"),
  "new-visit": () => import("./visit/new-visit.tsx"),
  visit: () => import("./visit/visit-page.tsx"),
  sites: () => import("./sites/site-list.tsx"),
  site: () => import("./sites/site-page.tsx"),
  advise: () => import("./advise/advise-page.tsx"),
  rules: () => import("./rules/rule-list.tsx"),
  "rule-pack": () => import("./rules/rule-pack-page.tsx"),
  desk: () => import("./desk/desk-pages.tsx"),
  learn: () => import("./learn/learn-page.tsx"),
} as const;
const Today = lazy(PARTS.today);
const VisitList = lazy(PARTS.visits);
const NewVisit = lazy(PARTS["new-visit"]);
const VisitPage = lazy(PARTS.visit);
const SiteList = lazy(PARTS.sites);
const SitePage = lazy(PARTS.site);
const Advise = lazy(PARTS.advise);
const RuleList = lazy(PARTS.rules);
const RulePackPage = lazy(PARTS["rule-pack"]);
const DeskPages = lazy(PARTS.desk);
const Learn = lazy(PARTS.learn);

/** The page at an address. Every page has one of its own, so that it can be shared, kept and gone back to. */
function pageAt(address: Address) {
  const { parts, query } = address;
  const [place, which, view] = parts;
  if (place === undefined) return <Home otherwise={<Today />} />;
  if (DESK_ADDRESSES.has(place)) return <DeskPages address={address} />;
  if (place === "visits" && which === undefined) return <VisitList />;
  if (place === "visits" && which === "new")
    return <NewVisit site={query.get("site")} array={query.get("array")} of={query.get("case")} />;
  if (place === "visits" && which !== undefined) return <VisitPage key={which} id={which} />;
  if (place === "sites" && which === undefined) return <SiteList />;
  if (place === "sites" && which !== undefined)
    return <SitePage key={which} id={which} view={view ?? "path"} />;
  if (place === "advise") return <Advise />;
  if (place === "rules" && which === undefined) return <RuleList />;
  if (place === "rules" && which !== undefined) return <RulePackPage key={which} id={which} />;
  if (place === "learn") return <Learn />;
  return (
    <Page title="Nothing is kept at this address">
      <p>Choose a place in the top line, or go back.</p>
    </Page>
  );
}

/** Begins to fetch the page at an address before anything is drawn, so that it does not wait for the top line. */
export function fetchPage(address: Address): void {
  const [place, which] = address.parts;
  const signedIn = maySignIn();
  if (signedIn) fetchDeskPart(address);
  if (place === undefined) {
    // What needs a person now is part of the program.
    if (!signedIn) void PARTS.today();
  } else if (DESK_ADDRESSES.has(place)) void PARTS.desk();
  else if (which === undefined && place in PARTS) void PARTS[place as keyof typeof PARTS]();
}

export function App() {
  const address = useAddress();
  const place = address.parts.slice(0, 2).join("/");
  const first = useRef(true);
  useEffect(() => {
    // The browser sets the focus of a fresh page; after a move inside the app we do.
    if (first.current) first.current = false;
    else document.getElementById("content")?.focus();
  }, [place]);
  return (
    <>
      <a className="skip" href="#content">
        Skip to the page
      </a>
      <TopLine place={address.parts[0] ?? ""} />
      <main id="content" tabIndex={-1}>
        <Mishap key={place}>
          <Suspense fallback={<p className="soft">Opening…</p>}>{pageAt(address)}</Suspense>
        </Mishap>
      </main>
      <Announcer />
    </>
  );
}
