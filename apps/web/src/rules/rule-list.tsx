import { BUILT_IN_PACKS } from "@earthbell/engine";
import { lazy, Suspense } from "react";
import { Link } from "../address/link.tsx";
import { maySignIn, useSession } from "../desk/session.ts";
import { Asking } from "../page/asking.tsx";
import { Page } from "../page/page.tsx";
import { placesOf } from "./places-of.ts";

const OwnPacks = lazy(async () => await import("../desk/own-packs.tsx"));

/** Every rule pack that is kept here. */
export default function RuleList() {
  const { state } = useSession();
  return (
    <Page
      title="Rules"
      under="One pack is one edition of one rule set as data. Each value says where it comes from; check those tagged memory or secondary against your own copy."
    >
      {state === "asking" && maySignIn() ? (
        <Asking />
      ) : state === "someone" ? (
        <Suspense fallback={<Asking />}>
          <OwnPacks>
            <BuiltIn />
          </OwnPacks>
        </Suspense>
      ) : (
        <BuiltIn />
      )}
    </Page>
  );
}

function BuiltIn() {
  return (
    <ul className="plain index">
      {BUILT_IN_PACKS.map((pack) => (
        <li key={pack.id} className="noted">
          <p>
            <Link to={`/rules/${pack.id}`}>{pack.title}</Link>
            <br />
            <span className="soft">{pack.edition}</span>
          </p>
          <p className="note">{placesOf(pack)}</p>
        </li>
      ))}
    </ul>
  );
}
