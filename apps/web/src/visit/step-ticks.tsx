import { type PreconditionId, PRECONDITIONS, type Step } from "@earthbell/engine";
import { useRef } from "react";
import { useTheme } from "../look/theme.ts";
import { State } from "../page/state.tsx";
import { useHeldOnScreen } from "./held-on-screen.ts";

interface StepTicksProps {
  readonly step: Step;
  readonly missing: readonly PreconditionId[];
  readonly ticked: (id: PreconditionId, done: boolean) => void;
  /** They are what the page asks for now: the question is brought on the screen. */
  readonly atHand: boolean;
  /** Once all are made sure of they fold, so that the reading is on the screen with its question. */
  readonly folded: boolean;
}

/** What must be so before a step, each to be ticked by the person who made sure; on the roof one question a screen. */
export function StepTicks({ step, missing, ticked, atHand, folded }: StepTicksProps) {
  const roof = useTheme() === "roof";
  const all = step.requires as readonly PreconditionId[];
  const [first] = missing;
  if (roof && first !== undefined)
    return (
      <OneTick
        id={first}
        count={`${all.length - missing.length + 1} of ${all.length}`}
        {...{ ticked, atHand }}
      />
    );
  const list = (
    <fieldset>
      <legend>
        {missing.length === 0 ? (
          <State state="proven" word="Made sure" />
        ) : (
          <>
            <State state="must" /> Make sure, then tick
          </>
        )}
      </legend>
      {all.map((id) => (
        <label key={id} className="tick">
          <input
            type="checkbox"
            checked={!missing.includes(id)}
            onChange={(event) => {
              ticked(id, event.currentTarget.checked);
            }}
          />
          <span>{PRECONDITIONS[id]}</span>
        </label>
      ))}
    </fieldset>
  );
  if (!folded || missing.length > 0) return list;
  return (
    <details>
      <summary>
        <State state="proven" word="Made sure" /> of {all.length} things
      </summary>
      {list}
    </details>
  );
}

interface OneTickProps extends Pick<StepTicksProps, "ticked" | "atHand"> {
  readonly id: PreconditionId;
  /** "2 of 6". */
  readonly count: string;
}

function OneTick({ id, count, ticked, atHand }: OneTickProps) {
  const question = useRef<HTMLDivElement>(null);
  useHeldOnScreen(question, atHand ? id : null);
  return (
    <div className="flow ask" ref={question}>
      <p className="soft">Before this step, {count}</p>
      <p className="lead">
        <strong>{PRECONDITIONS[id]}</strong>
      </p>
      <button
        type="button"
        className="main"
        onClick={() => {
          ticked(id, true);
        }}
      >
        Done, I made sure
      </button>
      <p className="soft">If it is not so, stop here. Nothing that follows may be done.</p>
    </div>
  );
}
