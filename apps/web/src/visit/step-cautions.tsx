import { cautionsFor, type SafetyAction } from "@earthbell/engine";
import { State } from "../page/state.tsx";
import { SourceNote } from "../page/source-note.tsx";

interface StepCautionsProps {
  readonly action: SafetyAction;
  readonly read: boolean;
  readonly markRead: () => void;
}

/** The cautions of a step, before the step. Once read on a visit they fold, and stay one press away. */
export function StepCautions({ action, read, markRead }: StepCautionsProps) {
  const cautions = cautionsFor(action);
  const list = (
    <ul className="plain index">
      {cautions.map(({ id, text, source, tag }) => (
        <li key={id} className="noted">
          <p>{text}</p>
          <SourceNote source={source} tag={tag} />
        </li>
      ))}
    </ul>
  );
  if (read)
    return (
      <details>
        <summary>Cautions for this step, {cautions.length}</summary>
        {list}
      </details>
    );
  return (
    <div className="flow">
      <p>
        <State state="must" word="Read first" />
      </p>
      {list}
      <button type="button" className="main" onClick={markRead}>
        I have read these
      </button>
    </div>
  );
}
