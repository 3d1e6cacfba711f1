import type { Judgement } from "@earthbell/model";
import { State } from "../page/state.tsx";
import type { CommissioningForm, ResultEntry } from "./commissioning-form.ts";
import { entriesForEveryPath, entriesOf, type PlannedStep, type ProofLine } from "./proof-lines.ts";

interface StepListProps {
  readonly of: string;
  readonly steps: readonly PlannedStep[];
  readonly form: CommissioningForm;
  readonly judgements: ReadonlyMap<string, Judgement | null>;
}

/** The id of the heading of a step. */
export const idOfStep = (of: string, step: string): string => `step-${of}/${step}`;

/** `3. Open circuit voltage`. */
export function titleOfStep({ number, step: { id } }: PlannedStep): string {
  const words = id.replaceAll("-", " ");
  return `${number}. ${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}

/** Every step with what is entered of it, each leading there: on a phone the steps are many screens long. */
export function StepList({ of, steps, form, judgements }: StepListProps) {
  return (
    <ol className="plain index" aria-label={`Steps of ${of}`}>
      {steps.map((planned) => (
        <li key={planned.step.id}>
          <button
            type="button"
            className="word"
            onClick={() => {
              document.getElementById(idOfStep(of, planned.step.id))?.focus();
            }}
          >
            {titleOfStep(planned)}
          </button>{" "}
          <Standing planned={planned} form={form} judgements={judgements} />
        </li>
      ))}
    </ol>
  );
}

/** That everything is entered does not say that it passes: what does not is said first. */
function Standing({
  planned: { step, lines },
  form,
  judgements,
}: Omit<StepListProps, "of" | "steps"> & { readonly planned: PlannedStep }) {
  if (step.leftOut !== null) return <span className="soft">left out</span>;
  const entered = lines.map((line) => enteredOf(form, line));
  const failed = entered.flat().filter((entry) => fails(entry, judgements)).length;
  const done = entered.filter((of) => of.length > 0).length;
  return (
    <>
      {failed === 0 ? null : (
        <State state="fault" word={failed === 1 ? "One does not pass" : `${failed} do not pass`} />
      )}{" "}
      <span className="soft">
        {done} of {lines.length} entered
      </span>
    </>
  );
}

function enteredOf(form: CommissioningForm, line: ProofLine): readonly ResultEntry[] {
  return [...entriesOf(form, line), ...entriesForEveryPath(form, line)].filter(
    ({ reading, passed }) => reading.trim() !== "" || passed !== "",
  );
}

function fails({ key, passed }: ResultEntry, judgements: StepListProps["judgements"]): boolean {
  return passed === "no" || judgements.get(key)?.verdict === "fails";
}
