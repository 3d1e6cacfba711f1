import {
  alternativeOf,
  CAUTIONS,
  type PreconditionId,
  PRECONDITIONS,
  type ProofStep,
} from "@earthbell/engine";
import type { Judgement } from "@earthbell/model";
import { State } from "../page/state.tsx";
import {
  blankResult,
  type ChangeForm,
  type CommissioningForm,
  withoutResult,
  withResult,
} from "./commissioning-form.ts";
import { DrillFields } from "./drill-fields.tsx";
import { figureOf, LineEntry } from "./line-entry.tsx";
import {
  entriesForEveryPath,
  entriesOf,
  type PlannedProof,
  type PlannedStep,
  type ProofLine,
} from "./proof-lines.ts";
import { idOfStep, StepList, titleOfStep } from "./step-list.tsx";
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
  // What was spelled out before an earlier step is named again, and folded.
  const told = new Set<string>();
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
      <StepList of={`${array}/${path}`} {...{ steps }} form={rest.form} judgements={rest.judgements} />
      {steps.map((planned) => {
        const fresh = planned.step.cautions.filter((id) => !told.has(id));
        for (const id of fresh) told.add(id);
        return <StepFields key={planned.step.id} {...{ planned, fresh, array, path }} {...rest} />;
      })}
      <DrillFields path={path} form={rest.form} change={rest.change} />
    </section>
  );
}

interface StepProps extends ProofProps {
  readonly planned: PlannedStep;
  /** Cautions that no step before has told. */
  readonly fresh: readonly string[];
  readonly array: string;
  readonly path: string;
}

function StepFields({ planned, fresh, array, path, form, change, judgements }: StepProps) {
  const { step, lines } = planned;
  const title = titleOfStep(planned);
  const id = idOfStep(`${array}/${path}`, step.id);
  if (step.leftOut !== null)
    return (
      <section className="flow proof-step">
        <h3 id={id} tabIndex={-1}>
          {title}: left out
        </h3>
        <p>
          {step.do} {step.leftOut}
        </p>
      </section>
    );
  return (
    <section className="flow proof-step">
      <h3 id={id} tabIndex={-1}>
        {title}
      </h3>
      <Cautions step={step} fresh={fresh} />
      <Ticks of={`${array}/${path}/${step.id}`} step={step} form={form} change={change} />
      <p className="lead">{step.do}</p>
      {lines.map((line) => (
        <LineFields key={line.number} {...{ line, form, change, judgements }} />
      ))}
    </section>
  );
}

function Cautions({ step, fresh }: { readonly step: ProofStep; readonly fresh: readonly string[] }) {
  const now = CAUTIONS.filter(({ id }) => fresh.includes(id));
  const before = CAUTIONS.filter(({ id }) => step.cautions.includes(id) && !fresh.includes(id));
  const list = (texts: readonly string[]) => (
    <ul className="plain index">
      {texts.map((text) => (
        <li key={text}>{text}</li>
      ))}
    </ul>
  );
  const first = [...now.map(({ text }) => text), ...step.warnings];
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
      {before.length === 0 ? null : (
        <details>
          <summary>
            Cautions as before, {before.length}
            <span className="unseen">, at {step.id.replaceAll("-", " ")}</span>
          </summary>
          {list(before.map(({ text }) => text))}
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
