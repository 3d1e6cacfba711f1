import type { ReactNode } from "react";
import { type Caution, cautionsFor, type SafetyAction } from "@earthbell/engine";
import { State } from "../page/state.tsx";
import { SourceNote } from "../page/source-note.tsx";

interface StepCautionsProps {
  readonly action: SafetyAction;
  /** Actions whose cautions were read on this visit. */
  readonly read: readonly SafetyAction[];
  readonly markRead: () => void;
}

/** The cautions of a step, before the step. Once read on a visit they fold, and stay one press away. */
export function StepCautions({ action, read, markRead }: StepCautionsProps) {
  const cautions = cautionsFor(action);
  if (read.includes(action))
    return <Folded cautions={cautions}>Cautions for this step, {cautions.length}</Folded>;
  // What is new must not drown in what was read some minutes before.
  const known = new Set(read.flatMap((earlier) => cautionsFor(earlier).map(({ id }) => id)));
  const before = cautions.filter(({ id }) => known.has(id));
  const fresh = cautions.filter(({ id }) => !known.has(id));
  return (
    <div className="flow">
      <p>
        <State state="must" word={firstWords(fresh.length, before.length)} />
      </p>
      <List cautions={fresh.length === 0 ? cautions : fresh} />
      {before.length === 0 || fresh.length === 0 ? null : (
        <Folded cautions={before}>And as before on this visit, {before.length}</Folded>
      )}
      <button type="button" className="main" onClick={markRead}>
        I have read these
      </button>
    </div>
  );
}

function firstWords(fresh: number, before: number): string {
  if (before === 0) return "Read first";
  return fresh === 0 ? "Read again" : "Read first, new with this step";
}

interface CautionsProps {
  readonly cautions: readonly Caution[];
}

function Folded({ cautions, children }: CautionsProps & { readonly children: ReactNode }) {
  return (
    <details>
      <summary>{children}</summary>
      <List cautions={cautions} />
    </details>
  );
}

function List({ cautions }: CautionsProps) {
  return (
    <ul className="plain index">
      {cautions.map(({ id, text, source, tag }) => (
        <li key={id} className="noted">
          <p>{text}</p>
          <SourceNote source={source} tag={tag} />
        </li>
      ))}
    </ul>
  );
}
