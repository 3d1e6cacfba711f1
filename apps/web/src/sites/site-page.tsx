import type { Site } from "@earthbell/engine";
import { lazy, Suspense, useState } from "react";
import { go } from "../address/address.ts";
import { Link } from "../address/link.tsx";
import { useDesk, useKept } from "../keep/use-desk.ts";
import { Page } from "../page/page.tsx";

interface ViewProps {
  readonly site: Site;
  /** Day at the site for which paths and proofs are judged. */
  readonly onDate: string;
}

const VIEWS = [
  { id: "path", name: "Path", View: lazy(async () => await import("./path-view.tsx")) },
  { id: "duty", name: "Duty", View: lazy(async () => await import("./duty-view.tsx")) },
  { id: "coverage", name: "Coverage", View: lazy(async () => await import("./coverage-view.tsx")) },
  { id: "notice", name: "Time to notice", View: lazy(async () => await import("./notice-view.tsx")) },
  { id: "loop", name: "Loop", View: lazy(async () => await import("./loop-view.tsx")) },
] as const;

const today = (): string => new Date().toISOString().slice(0, 10);

export default function SitePage({ id, view }: { readonly id: string; readonly view: string }) {
  const [onDate] = useState(today);
  const kept = useKept((from) => from.sites.one(id), id);
  const shown = VIEWS.find((one) => one.id === view) ?? VIEWS[0];
  if (kept === undefined) return <p className="soft">Opening the site…</p>;
  if (kept === null)
    return (
      <Page title="No such site on this device">
        <p>
          Open its file under <Link to="/sites">Sites</Link>.
        </p>
      </Page>
    );
  const given: ViewProps = { site: kept.site, onDate };
  return (
    <Page title={kept.name}>
      <nav aria-label="Of this site">
        <ul className="sub">
          {VIEWS.map((one) => (
            <li key={one.id}>
              <Link to={`/sites/${id}/${one.id}`} aria-current={one.id === shown.id ? "page" : undefined}>
                {one.name}
              </Link>
            </li>
          ))}
        </ul>
      </nav>
      <Suspense fallback={<p className="soft">Opening…</p>}>
        <shown.View {...given} />
      </Suspense>
      <Doings id={id} />
    </Page>
  );
}

function Doings({ id }: { readonly id: string }) {
  const desk = useDesk();
  return (
    <section className="row controls">
      <button
        type="button"
        onClick={() => {
          go(`/visits/new?site=${id}`);
        }}
      >
        Begin a visit here
      </button>
      <button
        type="button"
        className="word"
        onClick={() => {
          void desk.sites.remove(id).then(() => {
            go("/sites");
          });
        }}
      >
        Close this site; its file stays where it is
      </button>
    </section>
  );
}
