import { type ReactNode, useContext, useEffect, useRef, useState } from "react";
import { FieldFaultsShown } from "../commissioning/field-faults.ts";
import { FormChoice, FormField } from "../commissioning/form-field.tsx";
import { StandingWords } from "../commissioning/standing-words.tsx";
import { announce } from "../page/announce.tsx";
import { Fold } from "../page/fold.tsx";
import { useOpenFolds } from "../page/open-folds.ts";
import {
  blankStep,
  type ChangeSheet,
  movedStep,
  type SheetForm,
  type SheetStep,
} from "./setting-sheet-form.ts";
import { standingOfSheetStep } from "./sheet-step-standing.ts";

const TAGS = [
  ["published", "seen in the named source"],
  ["secondary", "seen in a copy or a trade text"],
  ["memory", "remembered, not confirmed"],
  ["common practice", "what the trade does"],
  ["computed", "arithmetic on other values"],
  ["design choice", "ours"],
  ["user", "given by this team"],
] as const;

interface SheetStepsProps {
  readonly form: SheetForm;
  readonly change: ChangeSheet;
}

/** Moving, putting in and taking away: the focus goes with the step, and what happened is read aloud. */
function useStepOrder({ form: { steps }, change }: SheetStepsProps) {
  const { folding, unfold } = useOpenFolds();
  const focusNext = useRef<string | null>(null);
  const [gone, setGone] = useState<{ readonly step: SheetStep; readonly at: number } | null>(null);
  useEffect(() => {
    if (focusNext.current === null) return;
    document.getElementById(focusNext.current)?.focus();
    focusNext.current = null;
  });
  const set = (now: readonly SheetStep[], focus: string, words: string): void => {
    focusNext.current = focus;
    change((form) => ({ ...form, steps: now }));
    announce(words);
  };
  const move = (key: string, by: -1 | 1): void => {
    const moved = movedStep(steps, key, by);
    const at = moved.findIndex((step) => step.key === key);
    const end = by < 0 ? at === 0 : at === moved.length - 1;
    const way = by < 0 === !end ? "up" : "down";
    set(moved, `${way}-${key}`, `It is step ${at + 1} of ${moved.length} now.`);
  };
  const add = (at: number): void => {
    const key = crypto.randomUUID();
    if (folding) unfold(key);
    const now = [...steps.slice(0, at), blankStep(key), ...steps.slice(at)];
    set(now, `field-steps[${at}].do`, `Step ${at + 1} is new.`);
  };
  const remove = (at: number): void => {
    setGone({ step: steps[at]!, at });
    const now = steps.filter((_, other) => other !== at);
    set(now, "put-step-back", `Step ${at + 1} is taken away. It can be put back.`);
  };
  const back = ({ step, at }: NonNullable<typeof gone>): void => {
    setGone(null);
    if (folding) unfold(step.key);
    set(
      [...steps.slice(0, at), step, ...steps.slice(at)],
      `field-steps[${at}].do`,
      `Step ${at + 1} is back.`,
    );
  };
  return { move, add, remove, gone, back };
}

/** The steps in their order; each can be moved, put in and taken away by the keyboard alone. */
export function SheetSteps({ form, change }: SheetStepsProps) {
  const { steps } = form;
  const { move, add, remove, gone, back } = useStepOrder({ form, change });
  return (
    <section className="flow">
      <h2 id="field-steps" tabIndex={-1}>
        Steps
      </h2>
      {steps.map((step, at) => (
        <Step key={step.key} {...{ step, at, steps }}>
          <StepFields
            {...{ step, at }}
            put={(fields) => {
              change((form) => ({
                ...form,
                steps: form.steps.map((one) => (one.key === step.key ? { ...one, ...fields } : one)),
              }));
            }}
          />
          <StepButtons {...{ step, at, count: steps.length, move, add, remove }} />
        </Step>
      ))}
      <p className="row">
        <button
          type="button"
          onClick={() => {
            add(steps.length);
          }}
        >
          Another step
        </button>
        {gone === null ? null : (
          <button
            id="put-step-back"
            type="button"
            className="word"
            onClick={() => {
              back(gone);
            }}
          >
            Put step {gone.at + 1} back
          </button>
        )}
      </p>
    </section>
  );
}

interface StepProps {
  readonly step: SheetStep;
  readonly at: number;
  readonly steps: readonly SheetStep[];
  readonly children: ReactNode;
}

/** Folded, a step says what it is to do. */
function Step({ step, at, steps, children }: StepProps) {
  const wrong = useContext(FieldFaultsShown);
  const next = steps[at + 1];
  return (
    <Fold
      name={step.key}
      title={`Step ${at + 1}`}
      level={3}
      standing={<StandingWords standing={standingOfSheetStep(step, at, wrong)} />}
      next={next === undefined ? null : { name: next.key, title: `step ${at + 2}` }}
    >
      {children}
    </Fold>
  );
}

interface StepButtonsProps {
  readonly step: SheetStep;
  readonly at: number;
  readonly count: number;
  readonly move: (key: string, by: -1 | 1) => void;
  readonly add: (at: number) => void;
  readonly remove: (at: number) => void;
}

function StepButtons({ step: { key }, at, count, move, add, remove }: StepButtonsProps) {
  const number = at + 1;
  return (
    <p className="row">
      <button
        type="button"
        id={`up-${key}`}
        disabled={at === 0}
        onClick={() => {
          move(key, -1);
        }}
      >
        Move step {number} up
      </button>
      <button
        type="button"
        id={`down-${key}`}
        disabled={number === count}
        onClick={() => {
          move(key, 1);
        }}
      >
        Move step {number} down
      </button>
      <button
        type="button"
        className="word"
        onClick={() => {
          add(at);
        }}
      >
        Put a step before {number}
      </button>
      <button
        type="button"
        className="word"
        disabled={count === 1}
        onClick={() => {
          remove(at);
        }}
      >
        Take step {number} away
      </button>
    </p>
  );
}

interface StepFieldsProps {
  readonly step: SheetStep;
  readonly at: number;
  readonly put: (fields: Partial<SheetStep>) => void;
}

function StepFields({ step, at, put }: StepFieldsProps) {
  const field = (name: keyof SheetStep, words: string, hint?: string, long = false) => (
    <FormField
      at={`steps[${at}].${name}`}
      words={words}
      {...(hint === undefined ? {} : { hint })}
      long={long}
      value={step[name]}
      typed={(value) => {
        put({ [name]: value });
      }}
    />
  );
  return (
    <>
      {field("caution", "Caution before it", "read before the step")}
      {field("do", "What to do", undefined, true)}
      <div className="fields">
        {field("shows", "What the device shows then")}
        {field("value", "What is set", "a value of the site in words")}
        {field("why", "Why")}
        {field("source", "Where it comes from")}
        <FormChoice
          at={`steps[${at}].tag`}
          words="How sure that is"
          value={step.tag}
          choices={TAGS.map(([tag, means]) => [tag, `${tag}: ${means}`] as const)}
          chosen={(tag) => {
            put({ tag });
          }}
        />
      </div>
    </>
  );
}
