import type { ProofPlan } from "@earthbell/engine";
import type { Commissioning } from "@earthbell/model";
import { readDesk } from "../desk/ask-desk.ts";
import { FaultText } from "../desk/fault-text.tsx";
import { useStep } from "../desk/use-step.ts";
import { ask } from "../engine/ask.ts";
import { FormFile } from "../papers/form-file.tsx";
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

/** Results go out of the form and into it as a file, or begin with those of the newest record. */
export function ResultsFile({ site, plan, form, begun, change, text }: ResultsFileProps) {
  return (
    <FormFile
      {...{ form, begun, text }}
      saves="what is entered"
      opens="a file of results"
      name={`commissioning-${site}.yaml`}
      read={async (loaded, file) => {
        const read = await ask("readResults", loaded, file, plan);
        if (!read.ok) return read;
        const words = `${read.record.results.length} results of ${file} are in the form.`;
        return { ok: true, form: formOf(read.record), words };
      }}
      put={(by) => {
        change(() => by);
      }}
      others={(replace) => (
        <>
          <FromRecord site={site} replace={replace} />
          <p>
            <button
              type="button"
              className="word"
              disabled={!begun}
              onClick={() => {
                replace(BLANK_FORM, "The form is empty.");
              }}
            >
              Empty the form
            </button>
          </p>
        </>
      )}
    />
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
