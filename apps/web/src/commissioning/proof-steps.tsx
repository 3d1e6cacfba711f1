import {
  alternativeOf,
  CAUTIONS,
  type PreconditionId,
  PRECONDITIONS,
  type ProofStep,
} from "@earthbell/engine";
import type { Judgement } from "@earthbell/model";
import { useContext } from "react";
import { State } from "../page/state.tsx";
import {
  blankResult,
  type ChangeForm,
  type CommissioningForm,
  withoutResult,
  withResult,
} from "./commissioning-form.ts";
import { DrillFields } from "./drill-fields.tsx";
import { FieldFaultsShown } from "./field-faults.ts";
import { figureOf, LineEntry } from "./line-entry.tsx";
import { useOpenFolds } from "../page/open-folds.ts";
import {
  entriesForEveryPath,
  entriesOf,
  type PlannedProof,
  type PlannedStep,
  type ProofLine,
} from "./proof-lines.ts";
import { StepFold } from "./step-fold.tsx";
import { StepList } from "./step-list.tsx";
import { standingOf } from "./step-standing.ts";
import { readingText } from "./typed-form.ts";

interface ProofProps {
  readonly form: CommissioningForm;
  readonly change: ChangeForm;
  /** By the key of the result. */
  readonly judgements: ReadonlyMap<string, Judgement | null>;
}

/** Every step for an array and a path, in the order in which it is done, then the drill. */
export function ProofFields({ proof, ...rest }: ProofProps & { readonly proof: PlannedProof }) {
  const { array, path, after, steps } = proof;
  const wrong = useContext(FieldFaultsShown);
  const of = `${array}/${path}`;
  // What was spelled out before an earlier step is named again, and folded.
  const told = new Set<string>();
  const named = steps.map((planned) => ({
    planned,
    name: { name: `${of}/${planned.step.id}`, title: titleOfStep(planned) },
    standing: standingOf(planned, { ...rest, wrong }),
  }));
  const drill = { name: `${of}/drill`, title: `Drill of path ${path}` };
  return (
    <section className="flow">
      <h2>
        Array {array}, path {path}
      </h2>
      {after ? (
        <p>
          Earth continuity, polarity, voltage and insulation of array {array} are entered above, if they were
          measured on the same day.
        </p>
      ) : null}
      <StepList of={of} steps={named} />
      {named.map(({ planned, name, standing }, at) => {
        const fresh = planned.step.cautions.filter((id) => !told.has(id));
        for (const id of fresh) told.add(id);
        return (
          <StepFold key={name.name} step={name} standing={standing} next={named[at + 1]?.name ?? drill}>
            <StepFields {...{ planned, fresh }} of={name.name} {...rest} />
          </StepFold>
        );
      })}
      <DrillFields path={path} step={drill} form={rest.form} change={rest.change} />
    </section>
  );
}

/** `3. Open circuit voltage`. */
function titleOfStep({ number, step: { id, leftOut } }: PlannedStep): string {
  const words = id.replaceAll("-", " ");
  return `${number}. ${words.charAt(0).toUpperCase()}${words.slice(1)}${leftOut === null ? "" : ": left out"}`;
}

interface StepProps extends ProofProps {
  readonly planned: PlannedStep;
  /** Cautions that no step before has told. */
  readonly fresh: readonly string[];
  /** The name of the step. */
  readonly of: string;
}

function StepFields({ planned: { step, lines }, fresh, of, form, change, judgements }: StepProps) {
  if (step.leftOut !== null)
    return (
      <p>
        {step.do} {step.leftOut}
      </p>
    );
  return (
    <>
      <Cautions step={step} fresh={fresh} />
      <Ticks of={of} step={step} form={form} change={change} />
      <p className="lead">{step.do}</p>
      {lines.map((line) => (
        <LineFields key={line.number} {...{ line, form, change, judgements }} />
      ))}
    </>
  );
}

/** What a step before has told is folded, but not where that step may be folded itself, unread. */
function Cautions({ step, fresh }: { readonly step: ProofStep; readonly fresh: readonly string[] }) {
  const { folding } = useOpenFolds();
  const now = CAUTIONS.filter(({ id }) => fresh.includes(id));
  const before = CAUTIONS.filter(({ id }) => step.cautions.includes(id) && !fresh.includes(id));
  const list = (texts: readonly string[]) => (
    <ul className="plain index">
      {texts.map((text) => (
        <li key={text}>{text}</li>
      ))}
    </ul>
  );
  const textsBefore = before.map(({ text }) => text);
  const first = [...now.map(({ text }) => text), ...step.warnings, ...(folding ? textsBefore : [])];
  return (
    <>
      {first.length === 0 ? null : (
        <>
          <p>
            <State state="must" word="Read first" />
          </p>
          {list(first)}
        </>
      )}
      {folding || before.length === 0 ? null : (
        <details>
          <summary>
            Cautions as before, {before.length}
            <span className="unseen">, at {step.id.replaceAll("-", " ")}</span>
          </summary>
          {list(textsBefore)}
        </details>
      )}
    </>
  );
}

interface TicksProps extends Pick<ProofProps, "form" | "change"> {
  readonly of: string;
  readonly step: ProofStep;
}

/** What must hold before the step, ticked on the spot. */
function Ticks({ of, step, form, change }: TicksProps) {
  if (step.requires.length === 0) return null;
  const tickOf = (id: PreconditionId): string => `${of}/${id}`;
  const done = step.requires.filter((id) => form.ticks.includes(tickOf(id)));
  const all = done.length === step.requires.length;
  return (
    <details open={!all}>
      <summary>
        <span>
          <State state={all ? "proven" : "must"} word={all ? "Made sure" : "Make sure first"} /> {done.length}{" "}
          of {step.requires.length} ticked
          <span className="unseen"> for {step.id.replaceAll("-", " ")}</span>
        </span>
      </summary>
      {step.requires.map((id) => (
        <label key={id} className="tick">
          <input
            type="checkbox"
            checked={done.includes(id)}
            onChange={(event) => {
              const ticked = event.currentTarget.checked;
              change((now) => {
                const others = now.ticks.filter((one) => one !== tickOf(id));
                return { ...now, ticks: ticked ? [...others, tickOf(id)] : others };
              });
            }}
          />
          <span>{PRECONDITIONS[id]}</span>
        </label>
      ))}
    </details>
  );
}

function LineFields({ line, form, change, judgements }: ProofProps & { readonly line: ProofLine }) {
  const entries = entriesOf(form, line);
  const every = entriesForEveryPath(form, line);
  const several = entries.length > 1;
  return (
    <div className="flow proof-line">
      <LineWords line={line} />
      {every.map(({ key, reading, unit, passed }) => (
        <p key={key} className="soft">
          For every path of the array: {readingText({ reading, unit })}
          {passed === "" ? "" : passed === "yes" ? ", passes" : ", does not pass"}.{" "}
          <button
            type="button"
            className="word"
            onClick={() => {
              change((now) => withoutResult(now, key));
            }}
          >
            Take it away<span className="unseen"> from line {line.number}</span>
          </button>
        </p>
      ))}
      {every.length > 0
        ? null
        : entries.map((entry, at) => (
            <LineEntry
              key={entry.key}
              {...{ line, entry }}
              which={several ? at + 1 : null}
              judgement={judgements.get(entry.key) ?? null}
              instruments={form.instruments}
              put={(changed) => {
                change((now) => withResult(now, changed));
              }}
              remove={
                several
                  ? () => {
                      change((now) => withoutResult(now, entry.key));
                    }
                  : null
              }
            />
          ))}
      {every.length > 0 || line.expected === null ? null : (
        <button
          type="button"
          className="word"
          onClick={() => {
            const [first] = entries;
            // The first one is put into the form as well: a line is blank only while nothing stands there.
            change((now) => {
              const kept = withResult(now, first!);
              return withResult(kept, blankResult(line.slot, crypto.randomUUID()));
            });
          }}
        >
          Another reading of line {line.number}
        </button>
      )}
    </div>
  );
}

/** What a line should show, its limit, and where that comes from. */
function LineWords({ line: { number, expected, alternatives } }: { readonly line: ProofLine }) {
  if (expected === null) return null;
  const { text, source, tag } = expected;
  const figure = alternatives.length === 0 ? figureOf(expected) : null;
  const words = alternatives.length === 0 ? text : alternativeOf(expected);
  return (
    <p>
      <span className="figure">{number}</span> {words}
      {figure === null ? null : (
        <>
          {" "}
          <strong className="figure">{figure}</strong>
        </>
      )}{" "}
      <span className="small soft">
        {source} ({tag})
      </span>
    </p>
  );
}
