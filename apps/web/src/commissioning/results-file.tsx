import type { ProofPlan } from "@earthbell/engine";
import type { Commissioning, InputFault } from "@earthbell/model";
import { useState } from "react";
import { readDesk } from "../desk/ask-desk.ts";
import { FaultText } from "../desk/fault-text.tsx";
import { useStep } from "../desk/use-step.ts";
import { ask } from "../engine/ask.ts";
import { announce } from "../page/announce.tsx";
import { InputFaults } from "../page/input-faults.tsx";
import { OpenFile } from "../page/open-file.tsx";
import { saveFile } from "../page/save-file.ts";
import type { Entered } from "../papers/paper-records.ts";
import { BLANK_FORM, type ChangeForm, type CommissioningForm } from "./commissioning-form.ts";
import { formOf } from "./typed-form.ts";

interface ResultsFileProps {
  readonly site: string;
  readonly plan: ProofPlan;
  readonly form: CommissioningForm;
  readonly begun: boolean;
  readonly change: ChangeForm;
  /** What is entered, as a file. */
  readonly text: string;
}

/** Results go out of the form and into it as a file; what stood there before can be put back. */
export function ResultsFile({ site, plan, form, begun, change, text }: ResultsFileProps) {
  const [before, setBefore] = useState<CommissioningForm | null>(null);
  const [refused, setRefused] = useState<readonly InputFault[]>([]);
  const [said, setSaid] = useState<string | null>(null);
  const replace = (by: CommissioningForm, words: string): void => {
    setBefore(begun ? form : null);
    change(() => by);
    setSaid(words);
    announce(words);
  };
  const load = async (loaded: string, file: string): Promise<void> => {
    const read = await ask("readResults", loaded, file, plan);
    setRefused(read.ok ? [] : read.faults);
    setSaid(null);
    if (read.ok)
      replace(formOf(read.record), `${read.record.results.length} results of ${file} are in the form.`);
  };
  return (
    <section className="flow">
      <h2>As a file</h2>
      <p className="row">
        <button
          type="button"
          disabled={!begun}
          onClick={() => {
            saveFile(`commissioning-${site}.yaml`, text);
          }}
        >
          Save what is entered as a file
        </button>
        <button
          type="button"
          disabled={!begun}
          onClick={() => {
            replace(BLANK_FORM, "The form is empty.");
          }}
        >
          Empty the form
        </button>
      </p>
      <FromRecord site={site} replace={replace} />
      <details>
        <summary>Fill the form in from a file</summary>
        <OpenFile
          what="a file of results"
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
                replace(before, "What was entered before is back in the form.");
              }}
            >
              Put back what was entered before
            </button>
          )}
        </p>
      )}
    </section>
  );
}

interface FromRecordProps {
  readonly site: string;
  readonly replace: (by: CommissioningForm, words: string) => void;
}

/** The results of the record that was issued last, as the beginning of its next revision. */
function FromRecord({ site, replace }: FromRecordProps) {
  const { busy, fault, take } = useStep();
  const fill = (): void => {
    take(async () => {
      const path = `/api/sites/${encodeURIComponent(site)}/commissioning`;
      const { number, revision, entered } = await readDesk<Entered<Commissioning>>(path);
      replace(
        formOf(await ask("typedResults", entered)),
        `What was entered for revision ${revision} of ${number} is in the form.`,
      );
      return null;
    });
  };
  return (
    <>
      <p>
        <button type="button" className="word" disabled={busy} onClick={fill}>
          Fill the form in from the newest record of this site
        </button>
      </p>
      <FaultText fault={fault} />
    </>
  );
}
