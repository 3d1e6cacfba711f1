import { useState } from "react";
import { go } from "../address/address.ts";
import { Link } from "../address/link.tsx";
import { ask } from "../engine/ask.ts";
import type { Desk } from "../keep/desk.ts";
import type { KeptSite } from "../keep/kept.ts";
import { useDesk, useKept } from "../keep/use-desk.ts";
import { InputFaults } from "../page/input-faults.tsx";
import { OpenFile } from "../page/open-file.tsx";
import { Page } from "../page/page.tsx";
import { useWork } from "../page/use-work.tsx";

type Refused = Parameters<typeof InputFaults>[0];

async function keepSite(desk: Desk, text: string, file: string): Promise<{ readonly id: string } | Refused> {
  const read = await ask("readSite", text, file);
  if (!read.ok) return { file, faults: read.faults };
  const { id, name } = read.record;
  await desk.sites.keep({
    id,
    name: name ?? id,
    file,
    text,
    site: read.record,
    opened: new Date().toISOString(),
  });
  return { id };
}

/** Sites opened from their files; a file opened again replaces what was kept under its id. */
export default function SiteList() {
  const desk = useDesk();
  const { start, failure } = useWork();
  const sites = useKept((from) => from.sites.all(), "sites");
  const [refused, setRefused] = useState<Refused | null>(null);
  const open = async (text: string, file: string): Promise<void> => {
    const kept = await keepSite(desk, text, file);
    if ("id" in kept) go(`/sites/${kept.id}`);
    else setRefused(kept);
  };
  const examples = async (): Promise<void> => {
    const { EXAMPLE_SITES } = await import("./example-sites.ts");
    for (const { text, file } of EXAMPLE_SITES) await keepSite(desk, text, file);
  };
  return (
    <Page title="Sites" under="What the rules ask of an array, and how a fault on it would reach a person.">
      {sites !== undefined && sites.length === 0 ? (
        <p>
          No site is open here. Open a site file below, or{" "}
          <button
            type="button"
            className="word"
            onClick={() => {
              start(examples());
            }}
          >
            take the two invented examples
          </button>
          .
        </p>
      ) : (
        <ul className="plain index">
          {sites?.map((kept) => (
            <SiteLine key={kept.id} kept={kept} />
          ))}
        </ul>
      )}
      <section className="flow">
        <h2>From a file</h2>
        <OpenFile
          what="a site file"
          opened={(text, file) => {
            start(open(text, file));
          }}
        />
        {failure}
        {refused === null ? null : <InputFaults {...refused} />}
      </section>
    </Page>
  );
}

function SiteLine({ kept: { id, name, site, opened, file } }: { readonly kept: KeptSite }) {
  return (
    <li className="noted">
      <p>
        <Link to={`/sites/${id}`}>{name}</Link>
        <br />
        <span className="soft">
          {site.arrays.length === 1 ? "one array" : `${site.arrays.length} arrays`},{" "}
          {site.paths.length === 1 ? "one path" : `${site.paths.length} paths`}
        </span>
      </p>
      <p className="note">
        {file}, opened {new Date(opened).toLocaleDateString()}
      </p>
    </li>
  );
}
