import { useState } from "react";
import { go } from "../address/address.ts";
import { ask } from "../engine/ask.ts";
import type { KeptVisit } from "../keep/kept.ts";
import { useDesk } from "../keep/use-desk.ts";
import { saveFile } from "../page/save-file.ts";
import { useWork } from "../page/use-work.tsx";
import { newId } from "./begin-visit.ts";
import { afresh } from "./change-visit.ts";
import type { ChangeVisit } from "./use-visit.ts";

interface HandOverProps {
  readonly kept: KeptVisit;
  readonly change: ChangeVisit;
}

/** The visit as a file, its notes as comments at the top; photos are saved one by one. */
export function HandOver({ kept, change }: HandOverProps) {
  const desk = useDesk();
  const { start, failure } = useWork();
  const [sure, setSure] = useState(false);
  const save = async (): Promise<void> => {
    const notes = [kept.title, `begun ${kept.begun}`, ...kept.notes.split("\n")].map((line) => line.trim());
    const text = await ask(
      "writeVisit",
      kept.visit,
      notes.filter((line) => line !== ""),
    );
    saveFile(`visit-${kept.begun.slice(0, 10)}-${kept.id}.yaml`, text);
  };
  const repeat = async (): Promise<void> => {
    const wet = kept.visit.conditions.wet ?? false;
    const next = afresh(kept, { id: newId(), now: new Date().toISOString(), wet });
    await desk.visits.keep(next);
    go(`/visits/${next.id}`);
  };
  return (
    <section className="flow controls" aria-label="Hand over">
      <h2>Notes and hand-over</h2>
      <label className="field">
        <span>Notes</span>
        <span className="hint">what was found on opening, what was done</span>
        <textarea
          rows={4}
          value={kept.notes}
          onChange={(event) => {
            const notes = event.currentTarget.value;
            change((now) => ({ ...now, notes }));
          }}
        />
      </label>
      <div className="row">
        <button
          type="button"
          onClick={() => {
            start(save());
          }}
        >
          Save as a visit file
        </button>
        <button
          type="button"
          onClick={() => {
            start(repeat());
          }}
        >
          Measure again after the repair
        </button>
        <button
          type="button"
          onClick={() => {
            window.print();
          }}
        >
          Print
        </button>
      </div>
      {failure}
      {sure ? (
        <p className="row">
          <button
            type="button"
            onClick={() => {
              void desk.visits.remove(kept.id).then(() => {
                go("/visits");
              });
            }}
          >
            Remove it from this device for good
          </button>
          <button
            type="button"
            className="word"
            onClick={() => {
              setSure(false);
            }}
          >
            Keep it
          </button>
        </p>
      ) : (
        <button
          type="button"
          className="word"
          onClick={() => {
            setSure(true);
          }}
        >
          Remove this visit
        </button>
      )}
    </section>
  );
}
