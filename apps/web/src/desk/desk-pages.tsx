import { lazy, Suspense, useEffect, useState } from "react";
import { type Address, go } from "../address/address.ts";
import { Page } from "../page/page.tsx";
import "./desk.css";
import { DESK_PARTS } from "./desk-parts.ts";
import type { Me } from "./records.ts";
import { type Session, useSession } from "./session.ts";
import { Unheard } from "./unheard.tsx";
import { Asking } from "../page/asking.tsx";

const SignInPage = lazy(DESK_PARTS["sign-in"]);
const JoinPage = lazy(DESK_PARTS.join);
const AccountPage = lazy(DESK_PARTS.account);
const CasePage = lazy(DESK_PARTS.case);
const CaseList = lazy(DESK_PARTS.cases);
const RegisterPage = lazy(DESK_PARTS.register);
const SiteFilePage = lazy(DESK_PARTS["site-file"]);
const RegisterImportPage = lazy(DESK_PARTS.table);
const DeskSitePage = lazy(DESK_PARTS.site);
const ToldPage = lazy(DESK_PARTS.people);
const ToldPersonPage = lazy(DESK_PARTS.person);
const AccountsPage = lazy(DESK_PARTS.accounts);
const PapersPage = lazy(DESK_PARTS.papers);
const SitePapersPage = lazy(DESK_PARTS["site-papers"]);
const CommissioningPage = lazy(DESK_PARTS.commissioning);
const SettingSheetPage = lazy(DESK_PARTS["setting-sheets"]);
const DriftPage = lazy(DESK_PARTS.drift);
const LookPage = lazy(DESK_PARTS.look);
const SettingsPage = lazy(DESK_PARTS.settings);
const AuditPage = lazy(DESK_PARTS.audit);
const MessagesPage = lazy(DESK_PARTS.messages);

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
  if (session.state === "asking") return <Asking />;
  return <Signed address={address} session={session} />;
}

/**
 * A page of the desk, or signing in. What was typed into a page stays in it while its reader has to sign in again; another person
 * finds a page of their own. Of what was looked at by a link nothing stays once the link has ended.
 */
function Signed({ address, session }: { readonly address: Address; readonly session: Session }) {
  const [last, setLast] = useState<Me | null>(null);
  const me = session.state === "someone" ? session.me : null;
  if (me !== null && me !== last) setLast(me);
  const shown = me ?? (session.state === "nobody" && session.lost === "account" ? last : null);
  return (
    <>
      {me === null ? <SignInPage /> : <Unheard />}
      {shown === null ? null : (
        <div key={shown.name} hidden={me === null}>
          <Place address={address} me={shown} />
        </div>
      )}
    </>
  );
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
        <RegisterPage me={me} />
      ) : (
        <DeskSitePage key={which} id={which} view={view} me={me} />
      );
    case "people":
      return <People parts={parts} me={me} />;
    case "site-file":
      return <SiteFilePage id={null} />;
    case "table":
      return <RegisterImportPage />;
    case "papers":
      if (which !== undefined && view === "commissioning")
        return <CommissioningPage key={which} id={which} me={me} />;
      return which === undefined ? <PapersPage me={me} /> : <SitePapersPage key={which} id={which} me={me} />;
    case "setting-sheets":
      return <SettingSheetPage key={which} id={which ?? "new"} />;
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

function People({
  parts: [, which, site, person],
  me,
}: {
  readonly parts: readonly string[];
  readonly me: Me;
}) {
  if (which === "accounts") return <AccountsPage me={me} />;
  if (site === undefined || person === undefined) return <ToldPage me={me} />;
  return <ToldPersonPage key={`${site} ${person}`} site={site} person={person} me={me} />;
}

/** Signed in at the address for signing in: there is nothing more to do there. */
function Home() {
  useEffect(() => {
    go("/", { replace: true });
  }, []);
  return null;
}
