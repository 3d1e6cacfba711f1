import { go } from "../address/address.ts";
import { Link } from "../address/link.tsx";
import { useDesk, useKept } from "../keep/use-desk.ts";
import { Page } from "../page/page.tsx";
import { nameOfView, SiteTabs, SiteView } from "./site-views.tsx";

export default function SitePage({ id, view }: { readonly id: string; readonly view: string }) {
  const kept = useKept((from) => from.sites.one(id), id);
  if (kept === undefined) return <p className="soft">Opening the site…</p>;
  if (kept === null)
    return (
      <Page title="No such site on this device">
        <p>
          Open its file under <Link to="/sites">Sites</Link>.
        </p>
      </Page>
    );
  return (
    <Page title={kept.name}>
      <SiteTabs at={`/sites/${id}`} shown={nameOfView(view)} />
      <SiteView site={kept.site} view={view} />
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
