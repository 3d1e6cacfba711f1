import type { InputFault } from "@earthbell/model";
import { useState } from "react";
import { ask } from "../engine/ask.ts";
import { announce } from "../page/announce.tsx";
import { InputFaults } from "../page/input-faults.tsx";
import { OpenFile } from "../page/open-file.tsx";
import { saveFile } from "../page/save-file.ts";
import { type ChangeSheet, formOfSheet, type SheetForm } from "./setting-sheet-form.ts";

interface SheetFileProps {
  readonly form: SheetForm;
  readonly begun: boolean;
  readonly change: ChangeSheet;
  readonly text: string;
  /** The id of the sheet stays, whatever the file says. */
  readonly fixed: boolean;
}

/** A sheet goes out of the form and into it as a file; what stood there before can be put back. */
export function SheetFile({ form, begun, change, text, fixed }: SheetFileProps) {
  const [before, setBefore] = useState<SheetForm | null>(null);
  const [refused, setRefused] = useState<readonly InputFault[]>([]);
  const [said, setSaid] = useState<string | null>(null);
  const replace = (by: SheetForm, words: string): void => {
    setBefore(begun ? form : null);
    change(({ id, from }) => ({ ...by, from, ...(fixed ? { id } : {}) }));
    setSaid(words);
    announce(words);
  };
  const load = async (loaded: string, file: string): Promise<void> => {
    const read = await ask("readSheet", loaded, file);
    setRefused(read.ok ? [] : read.faults);
    setSaid(null);
    if (read.ok) replace(formOfSheet(read.record, null), `The sheet of ${file} is in the form.`);
  };
  return (
    <section className="flow">
      <h2>As a file</h2>
      <button
        type="button"
        disabled={!begun}
        onClick={() => {
          saveFile(`setting-sheet-${form.id === "" ? "new" : form.id}.yaml`, text);
        }}
      >
        Save the sheet as a file
      </button>
      <details>
        <summary>Fill the form in from a file</summary>
        <OpenFile
          what="a setting sheet"
          opened={(loaded, file) => {
            void load(loaded, file);
          }}
        />
      </details>
      {refused.length === 0 ? null : <InputFaults file={refused[0]!.file} faults={refused} />}
      {said === null ? null : (
        <p>
          {said}{" "}
          {before === null ? null : (
            <button
              type="button"
              className="word"
              onClick={() => {
                replace(before, "What was written before is back in the form.");
              }}
            >
              Put back what was written before
            </button>
          )}
        </p>
      )}
    </section>
  );
}
