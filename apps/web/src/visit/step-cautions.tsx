import type { ReactNode } from "react";
import type { Caution, Step } from "@earthbell/engine";
import { clockWords } from "../desk/instant.ts";
import type { KeptVisit } from "../keep/kept.ts";
import { State } from "../page/state.tsx";
import { SourceNote } from "../page/source-note.tsx";
import { type CautionsOfStep, cautionsOfStep } from "./cautions-read.ts";

interface StepCautionsProps {
  readonly step: Pick<Step, "action" | "requires">;
  readonly read: KeptVisit["read"];
  /** Instant, ISO 8601 in UTC. */
  readonly now: string;
  readonly markRead: () => void;
}

/** The cautions of a step, before the step. Those read within the last hours fold, and stay one press away. */
export function StepCautions({ step, read, now, markRead }: StepCautionsProps) {
  const cautions = cautionsOfStep(read, step, now);
  const { fresh, before, asked } = cautions;
  const rest = [...before, ...asked];
  if (fresh.length === 0)
    return (
      <Folded cautions={rest}>
        Cautions: <Where {...cautions} />
      </Folded>
    );
  return (
    <div className="flow">
      <p>
        <State state="must" word={before.length === 0 ? "Read first" : "Read first, new with this step"} />
      </p>
      <List cautions={fresh} />
      {rest.length === 0 ? null : (
        <Folded cautions={rest}>
          The others: <Where {...cautions} />
        </Folded>
      )}
      <button type="button" className="main" onClick={markRead}>
        I have read these
      </button>
    </div>
  );
}

/** Where cautions are that do not stand open: "7 read at 10:41, 3 among the ticks". */
function Where({ before, since, asked }: CautionsOfStep) {
  const parts = [
    ...(since === null ? [] : [`${before.length} read at ${clockWords(Date.parse(since))}`]),
    ...(asked.length === 0 ? [] : [`${asked.length} among the ticks`]),
  ];
  return parts.join(", ");
}

interface FoldedProps {
  readonly cautions: readonly Caution[];
  readonly children: ReactNode;
}

function Folded({ cautions, children }: FoldedProps) {
  return (
    <details>
      <summary>{children}</summary>
      <List cautions={cautions} />
    </details>
  );
}

function List({ cautions }: { readonly cautions: readonly Caution[] }) {
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
