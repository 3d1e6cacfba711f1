import type { Finding, Reading, Step } from "@earthbell/engine";
import { conflictsOf } from "@earthbell/model";
import type { RefObject } from "react";
import { go } from "../address/address.ts";
import { useTheme } from "../look/theme.ts";
import type { KeptVisit } from "../keep/kept.ts";
import { useDesk } from "../keep/use-desk.ts";
import { announce } from "../page/announce.tsx";
import { State } from "../page/state.tsx";
import { useNarrow } from "../page/use-narrow.ts";
import { useWork } from "../page/use-work.tsx";
import type { AfterStep } from "./after-step.ts";
import { newId } from "./begin-visit.ts";
import { afresh, cautionsRead, chooseStep, missing, takeReading, tick, untick } from "./change-visit.ts";
import { cautionsOfStep, PARTING } from "./cautions-read.ts";
import { ReadingEntry } from "./reading-entry.tsx";
import { requestWords } from "./reading-field.ts";
import { StepCautions } from "./step-cautions.tsx";
import { StepTicks } from "./step-ticks.tsx";
import { stepWords, worthWords } from "./step-words.ts";
import type { Measure } from "./stand-in.ts";
import type { ChangeVisit } from "./use-visit.ts";

interface NextStepProps {
  readonly kept: KeptVisit;
  readonly finding: Finding | null;
  readonly change: ChangeVisit;
  /** Answers a reading in place of an instrument, in practice only. */
  readonly measure?: Measure;
  /** Offers to answer it beside the field, at the desk of a demonstration. */
  readonly standIn: Measure | null;
  readonly after: AfterStep;
}

const instant = (): string => new Date().toISOString();

/** The step to take now: cautions, then what must be so, then its readings; nothing later is reachable before. */
export function NextStep({ kept, finding, change, measure, standIn, after }: NextStepProps) {
  const step = after.unknown ? null : (kept.step ?? finding?.next[0] ?? null);
  const now = instant();
  const { heading } = after;
  const { start, failure } = useWork();
  const answerBy = (by: Measure): void => {
    if (step === null) return;
    after.done();
    const read = by(step).catch((error: unknown) => {
      after.undone();
      throw error;
    });
    start(read);
  };
  const markRead = (): void => {
    if (step !== null) change((was) => cautionsRead(was, step, instant()));
    // The button that was pressed is gone: the focus goes on to what comes next, and the page with it.
    heading.current?.focus();
    heading.current?.scrollIntoView();
  };
  if (step === null) return <NoStep heading={heading} calculating={finding === null || after.unknown} />;
  return (
    <section className="flow" aria-label="Next step">
      <h2 ref={heading} tabIndex={-1}>
        {stepWords(step)}
      </h2>
      <div className="noted">
        <p>{sentence(step.why)}</p>
        <p className="note">Promises {worthWords(step)}</p>
      </div>
      {PARTING.has(step.action) && conflictsOf(kept.entries).length > 0 ? (
        <Contested />
      ) : (
        <>
          <StepCautions {...{ step, read: kept.read, now, markRead }} />
          {cautionsOfStep(kept.read, step, now).fresh.length === 0 ? (
            <AfterCautions step={step} {...{ kept, change, measure, standIn, after, answerBy }} />
          ) : null}
          {failure}
        </>
      )}
      <OtherSteps {...{ kept, finding, step, change }} />
    </section>
  );
}

interface NoStepProps {
  readonly heading: RefObject<HTMLHeadingElement | null>;
  readonly calculating: boolean;
}

function NoStep({ heading, calculating }: NoStepProps) {
  return (
    <section className="flow" aria-label="Next step">
      <h2 ref={heading} tabIndex={-1}>
        {calculating ? "Calculating" : "Nothing more to measure"}
      </h2>
      {calculating ? null : <p>No further reading would change what is said here by much.</p>}
    </section>
  );
}

/** Nothing is parted for a place that rests on readings of which one is wrong. */
function Contested() {
  return (
    <p role="note">
      <State state="unsure" word="Not yet" /> Two readings of one thing contradict each other, so the place
      above is not sure. Say which holds, or measure again, before anything is isolated or opened.
    </p>
  );
}

const sentence = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;

interface AfterCautionsProps {
  readonly kept: KeptVisit;
  readonly step: Step;
  readonly change: ChangeVisit;
  readonly measure: Measure | undefined;
  readonly standIn: Measure | null;
  readonly after: AfterStep;
  readonly answerBy: (by: Measure) => void;
}

function AfterCautions({ kept, step, change, measure, standIn, after, answerBy }: AfterCautionsProps) {
  const open = missing(kept, step, instant());
  const taken = kept.step === null ? 0 : kept.taken;
  const request = step.readings[taken];
  const roof = useTheme() === "roof";
  const small = useNarrow("screen");
  const take = (reading: Reading): void => {
    if (taken + 1 >= step.readings.length) after.done();
    change((now) => takeReading(now, step, reading, instant()));
    announce(`Taken: ${request === undefined ? "" : requestWords(request)}`);
  };
  return (
    <>
      <StepTicks
        step={step}
        missing={open}
        atHand
        folded={roof || (small && taken > 0)}
        ticked={(id, done) => {
          change((now) => (done ? tick(now, step, id, instant()) : untick(now, id)));
        }}
      />
      {open.length > 0 ? (
        <NotYet open={open.length} />
      ) : measure !== undefined ? (
        <button
          type="button"
          className="main"
          onClick={() => {
            answerBy(measure);
          }}
        >
          Let the practice array answer
        </button>
      ) : request === undefined ? (
        <WhenDry kept={kept} />
      ) : (
        <>
          <ReadingEntry
            key={`${kept.visit.readings.length}`}
            request={request}
            count={`${taken + 1} of ${step.readings.length}`}
            value={kept.typed}
            typed={(typed) => {
              change((now) => ({ ...now, typed }));
            }}
            taken={take}
            atHand={roof || taken > 0}
          />
          {standIn === null ? null : <StandIn {...{ standIn, answerBy }} />}
        </>
      )}
    </>
  );
}

interface StandInProps {
  readonly standIn: Measure;
  readonly answerBy: (by: Measure) => void;
}

function StandIn({ standIn, answerBy }: StandInProps) {
  return (
    <p className="noted">
      <button
        type="button"
        onClick={() => {
          answerBy(standIn);
        }}
      >
        Let the stand-in meter read
      </button>
      <span className="note">this array is invented: a simulated meter answers, with its errors</span>
    </p>
  );
}

function NotYet({ open }: { readonly open: number }) {
  return (
    <p className="soft" role="note">
      {open} to go; then the readings open.
    </p>
  );
}

/** What was read wet stays a visit of its own. */
function WhenDry({ kept }: { readonly kept: KeptVisit }) {
  const desk = useDesk();
  const begin = async (): Promise<void> => {
    const next = afresh(kept, { id: newId(), now: instant(), wet: false });
    await desk.visits.keep(next);
    go(`/visits/${next.id}`);
  };
  return (
    <button
      type="button"
      className="main"
      onClick={() => {
        void begin();
      }}
    >
      It is dry: begin a new visit here
    </button>
  );
}

interface OtherStepsProps {
  readonly kept: KeptVisit;
  readonly finding: Finding | null;
  readonly step: Step;
  readonly change: ChangeVisit;
}

function OtherSteps({ kept, finding, step, change }: OtherStepsProps) {
  const others = (finding?.next ?? []).filter((one) => stepWords(one) !== stepWords(step));
  if (others.length === 0) return null;
  return (
    <details>
      <summary>Other steps, {others.length}</summary>
      <ul className="plain index">
        {others.map((one) => (
          <li key={stepWords(one)} className="noted">
            <p>
              {stepWords(one)}. {sentence(one.why)}{" "}
              <button
                type="button"
                className="word"
                onClick={() => {
                  change((now) => chooseStep(now, one));
                }}
              >
                Take this one
              </button>
            </p>
            <p className="note">{worthWords(one)}</p>
          </li>
        ))}
      </ul>
      {kept.step === null ? null : (
        <button
          type="button"
          className="word"
          onClick={() => {
            change((now) => chooseStep(now, null));
          }}
        >
          Back to the best step
        </button>
      )}
    </details>
  );
}
