import { lazy, Suspense, useEffect } from "react";
import { type Address, go } from "../address/address.ts";
import { Page } from "../page/page.tsx";
import "./desk.css";
import type { Me } from "./records.ts";
import { useSession } from "./session.ts";

const SignInPage = lazy(async () => await import("./sign-in-page.tsx"));
const JoinPage = lazy(async () => await import("./join-page.tsx"));
const AccountPage = lazy(async () => await import("./account-page.tsx"));
const CasePage = lazy(async () => await import("./case-page.tsx"));
const CaseList = lazy(async () => await import("./case-list.tsx"));
const RegisterPage = lazy(async () => await import("./register-page.tsx"));
const SiteFilePage = lazy(async () => await import("./site-file-page.tsx"));
const RegisterImportPage = lazy(async () => await import("./register-import-page.tsx"));
const DeskSitePage = lazy(async () => await import("./desk-site-page.tsx"));
const PeoplePage = lazy(async () => await import("./people-page.tsx"));
const PapersPage = lazy(async () => await import("../papers/papers-page.tsx"));
const SitePapersPage = lazy(async () => await import("../papers/site-papers-page.tsx"));
const DriftPage = lazy(async () => await import("../drift/drift-page.tsx"));
const LookPage = lazy(async () => await import("./look-page.tsx"));
const SettingsPage = lazy(async () => await import("./settings-page.tsx"));
const AuditPage = lazy(async () => await import("./audit-page.tsx"));
const MessagesPage = lazy(async () => await import("./messages-page.tsx"));

/** The pages that need a desk. Each is shown once somebody is signed in, at its own address. */
export default function DeskPages({ address }: { readonly address: Address }) {
  return (
    <Suspense fallback={<p className="soft">Opening…</p>}>
      <Guarded address={address} />
    </Suspense>
  );
}

function Guarded({ address }: { readonly address: Address }) {
  const session = useSession();
  const [place, which] = address.parts;
  if (place === "join" && which !== undefined) return <JoinPage key={which} token={which} />;
  if (place === "look" && which !== undefined) return <LookPage key={which} token={which} />;
  if (session.state === "asking") return <p className="soft">Asking the desk…</p>;
  if (session.state !== "someone") return <SignInPage />;
  return <Place address={address} me={session.me} />;
}

function Place({ address: { parts, query }, me }: { readonly address: Address; readonly me: Me }) {
  const [place, which, view = "watch"] = parts;
  switch (place) {
    case "account":
      return <AccountPage me={me} fresh={query.has("new")} />;
    case "cases":
      return which === undefined ? <CaseList /> : <CasePage key={which} id={which} me={me} />;
    case "register":
      if (which !== undefined && view === "file") return <SiteFilePage key={which} id={which} />;
      return which === undefined ? (
        <RegisterPage query={query} me={me} />
      ) : (
        <DeskSitePage key={which} id={which} view={view} me={me} />
      );
    case "people":
      return <PeoplePage me={me} />;
    case "site-file":
      return <SiteFilePage id={null} />;
    case "table":
      return <RegisterImportPage />;
    case "papers":
      return which === undefined ? <PapersPage me={me} /> : <SitePapersPage key={which} id={which} me={me} />;
    case "drift":
      return <DriftPage />;
    case "settings":
      return <SettingsPage me={me} />;
    case "audit":
      return <AuditPage me={me} />;
    case "messages":
      return <MessagesPage me={me} />;
    case "sign-in":
      return <Home />;
    default:
      return <Page title="Nothing is kept at this address">Choose a place in the top line.</Page>;
  }
}

/** Signed in at the address for signing in: there is nothing more to do there. */
function Home() {
  useEffect(() => {
    go("/", { replace: true });
  }, []);
  return null;
}
