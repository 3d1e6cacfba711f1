import type { Visit } from "@earthbell/engine";
import { useState, useSyncExternalStore } from "react";
import { instantWords } from "../desk/instant.ts";
import { go } from "../address/address.ts";
import { Link } from "../address/link.tsx";
import { ask } from "../engine/ask.ts";
import type { Desk } from "../keep/desk.ts";
import type { KeptVisit } from "../keep/kept.ts";
import { offlineState, type OfflineState, watchOffline } from "../keep/offline.ts";
import { waitingEntries } from "../keep/kept-entries.ts";
import { useDesk, useKept } from "../keep/use-desk.ts";
import { InputFaults } from "../page/input-faults.tsx";
import { OpenFile } from "../page/open-file.tsx";
import { Page } from "../page/page.tsx";
import { useWork } from "../page/use-work.tsx";
import { keptVisit, newId } from "./begin-visit.ts";

type Refused = Parameters<typeof InputFaults>[0];

/** Reads a visit file and keeps it as a visit of this device, or says everything that is wrong with it. */
async function openVisit(desk: Desk, text: string, file: string): Promise<Refused | null> {
  const read = await ask("readVisit", text, file);
  if (!read.ok) return { file, faults: read.faults };
  await keepVisit(desk, file.replace(/\.(ya?ml|json)$/iu, ""), read.record);
  return null;
}

async function keepVisit(desk: Desk, title: string, visit: Visit): Promise<void> {
  const kept = keptVisit({ id: newId(), title, now: new Date().toISOString(), visit });
  await desk.visits.keep(kept);
  go(`/visits/${kept.id}`);
}

async function openExample(open: (text: string, file: string) => void): Promise<void> {
  const { EXAMPLE_VISIT } = await import("./example-visit.ts");
  open(EXAMPLE_VISIT, "Example: creamery string S2");
}

function beginNew(): void {
  go("/visits/new");
}

export default function VisitList() {
  const desk = useDesk();
  const { start, failure } = useWork();
  const visits = useKept((from) => from.visits.all(), "visits");
  const [refused, setRefused] = useState<Refused | null>(null);
  const open = (text: string, file: string): void => {
    start(openVisit(desk, text, file).then(setRefused));
  };
  const example = (): void => {
    start(openExample(open));
  };
  const real = (visits ?? []).filter(({ practice }) => practice === null);
  return (
    <Page title="Visits" under="Readings taken at an array, and the damaged place they point to.">
      <p className="row">
        <button type="button" className="main" onClick={beginNew}>
          Begin a visit
        </button>
        <button type="button" onClick={example}>
          Open the example
        </button>
      </p>
      {failure}
      <section className="flow">
        <h2>On this device</h2>
        <WithoutSignal />
        {visits !== undefined && real.length === 0 ? (
          <p className="soft">No visit is kept here yet. Begin one, or open a visit file below.</p>
        ) : (
          <ul className="plain index">
            {real
              .toSorted((a, b) => b.changed.localeCompare(a.changed))
              .map((kept) => (
                <VisitLine key={kept.id} kept={kept} />
              ))}
          </ul>
        )}
      </section>
      <section className="flow">
        <h2>From a file</h2>
        <OpenFile what="a visit file" opened={open} />
        {refused === null ? null : <InputFaults {...refused} />}
      </section>
    </Page>
  );
}

const WITHOUT_SIGNAL: Readonly<Record<OfflineState, string>> = {
  preparing: "This device is fetching what it needs to work without signal.",
  ready: "This device holds all it needs: visits can be begun and carried out without signal.",
  "newer-waiting": "This device works without signal; a newer version is there to be taken, in the top line.",
  impossible: "This browser cannot open the pages without signal. Leave them open on the way to the roof.",
};

/** On a phone the top line has no room for it, and it must be known before the signal is gone. */
function WithoutSignal() {
  return <p className="soft">{WITHOUT_SIGNAL[useSyncExternalStore(watchOffline, offlineState)]}</p>;
}

/** Whether the desk has it, for a visit that is handed over. */
function sentWords(kept: KeptVisit): string {
  const waiting = waitingEntries(kept).length;
  if (kept.place === null) return "";
  if (waiting === 0 && kept.known) return "; at the desk";
  return waiting === 1 ? "; one entry not yet at the desk" : `; ${waiting} entries not yet at the desk`;
}

function VisitLine({ kept }: { readonly kept: KeptVisit }) {
  const { id, title, changed, visit } = kept;
  const strings =
    visit.strings.length === 1 ? `string ${visit.strings[0]!.id}` : `${visit.strings.length} strings`;
  const readings = visit.readings.length === 1 ? "one reading" : `${visit.readings.length} readings`;
  return (
    <li className="noted">
      <p>
        <Link to={`/visits/${id}`}>{title}</Link>
      </p>
      <p className="note">
        {strings}, {readings}, {instantWords(Date.parse(changed))}
        {sentWords(kept)}
      </p>
    </li>
  );
}
