import { useState } from "react";
import { go } from "../address/address.ts";
import type { KeptVisit } from "../keep/kept.ts";
import { notesText, standingPhotos, waitingEntries } from "../keep/kept-entries.ts";
import { useDesk, useKept } from "../keep/use-desk.ts";
import { saveFile } from "../page/save-file.ts";
import { useWork } from "../page/use-work.tsx";
import { newId } from "./begin-visit.ts";
import { afresh, recordNotes } from "./change-visit.ts";
import { HandToDesk } from "./hand-to-desk.tsx";
import type { ChangeVisit } from "./use-visit.ts";
import { visitFiles } from "./visit-files.ts";

interface HandOverProps {
  readonly kept: KeptVisit;
  readonly change: ChangeVisit;
}

/** Notes, and the ways in which a visit leaves this device. */
export function HandOver({ kept, change }: HandOverProps) {
  const notes = notesText(kept);
  return (
    <>
      {notes === "" ? null : <PrintedNotes notes={notes} />}
      <section className="flow controls" aria-label="Hand over">
        <h2>Notes and hand-over</h2>
        <label className="field">
          <span>Notes</span>
          <span className="hint">what was found on opening, what was done</span>
          <textarea
            rows={4}
            value={notes}
            onChange={(event) => {
              const draftNotes = event.currentTarget.value;
              change((now) => ({ ...now, draftNotes }));
            }}
            onBlur={() => {
              change((now) => recordNotes(now, new Date().toISOString()));
            }}
          />
        </label>
        <HandToDesk {...{ kept, change }} />
        <Hand kept={kept} />
        <Removal kept={kept} />
      </section>
    </>
  );
}

/** On paper the notes are read, and nothing is handed over. */
function PrintedNotes({ notes }: { readonly notes: string }) {
  return (
    <section className="flow on-paper" aria-label="Notes">
      <h2>Notes</h2>
      <p className="as-written">{notes}</p>
    </section>
  );
}

function Hand({ kept }: { readonly kept: KeptVisit }) {
  const desk = useDesk();
  const { start, failure } = useWork();
  const photos = standingPhotos(kept, useKept((from) => from.photos.of(kept.id), kept.id) ?? []);
  const save = (): void => {
    start(
      visitFiles(kept, photos).then((files) => {
        for (const { name, content } of files) saveFile(name, content);
      }),
    );
  };
  const repeat = (): void => {
    const wet = kept.visit.conditions.wet ?? false;
    const next = afresh(kept, { id: newId(), now: new Date().toISOString(), wet });
    const goThere = (): void => {
      go(`/visits/${next.id}`);
    };
    start(desk.visits.keep(next).then(goThere));
  };
  const print = (): void => {
    window.print();
  };
  return (
    <>
      <div className="row">
        <button type="button" onClick={save}>
          {saveWords(photos.length)}
        </button>
        <button type="button" onClick={repeat}>
          Measure again after the repair
        </button>
        <button type="button" onClick={print}>
          Print
        </button>
      </div>
      {failure}
    </>
  );
}

function saveWords(photos: number): string {
  const beside = photos === 0 ? "" : photos === 1 ? ", and its photo" : `, and its ${String(photos)} photos`;
  return `Save as a visit file${beside}`;
}

/** Asked twice: nothing brings a removed visit back. */
function Removal({ kept }: { readonly kept: KeptVisit }) {
  const { id } = kept;
  const unsent = waitingEntries(kept).length;
  const desk = useDesk();
  const { start, failure } = useWork();
  const [sure, setSure] = useState(false);
  const turn = (): void => {
    setSure(!sure);
  };
  const remove = (): void => {
    const leave = (): void => {
      go("/visits");
    };
    start(desk.visits.remove(id).then(leave));
  };
  if (!sure)
    return (
      <button type="button" className="word" onClick={turn}>
        Remove this visit
      </button>
    );
  return (
    <>
      {unsent === 0 ? null : (
        <p className="wrong">
          The desk has not got {unsent === 1 ? "one entry" : `${unsent} entries`} of it yet; they would be
          lost.
        </p>
      )}
      <p className="row">
        <button type="button" onClick={remove}>
          Remove it from this device for good
        </button>
        <button type="button" className="word" onClick={turn}>
          Keep it
        </button>
      </p>
      {failure}
    </>
  );
}
