import { lazy, Suspense, useEffect, useRef } from "react";
import { type Address, useAddress } from "./address/address.ts";
import { DESK_ADDRESSES } from "./desk/desk-places.ts";
import { Home } from "./desk/home.tsx";
import { Announcer } from "./page/announce.tsx";
import { Mishap } from "./page/mishap.tsx";
import { Page } from "./page/page.tsx";
import { TopLine } from "./page/top-line.tsx";

const Today = lazy(async () => await import("./today/today.tsx"));
const VisitList = lazy(async () => await import("./visit/visit-list.tsx"));
const NewVisit = lazy(async () => await import("./visit/new-visit.tsx"));
const VisitPage = lazy(async () => await import("./visit/visit-page.tsx"));
const SiteList = lazy(async () => await import("./sites/site-list.tsx"));
const SitePage = lazy(async () => await import("./sites/site-page.tsx"));
const Advise = lazy(async () => await import("./advise/advise-page.tsx"));
const RuleList = lazy(async () => await import("./rules/rule-list.tsx"));
const RulePackPage = lazy(async () => await import("./rules/rule-pack-page.tsx"));
const DeskPages = lazy(async () => await import("./desk/desk-pages.tsx"));
const Learn = lazy(async () => await import("./learn/learn-page.tsx"));

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
