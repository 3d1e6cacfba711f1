import { conflictsOf, type ReadingConflict } from "@earthbell/model";
import type { KeptVisit } from "../keep/kept.ts";
import { announce } from "../page/announce.tsx";
import { State } from "../page/state.tsx";
import { chooseReading, keepAll } from "./change-visit.ts";
import { readingPlace, readingValue } from "./reading-words.ts";
import type { ChangeVisit } from "./use-visit.ts";

interface ReadingConflictsProps {
  readonly kept: KeptVisit;
  readonly change: ChangeVisit;
}

/** What two people read differently without knowing of each other, side by side. Nothing is chosen by itself. */
export function ReadingConflicts({ kept, change }: ReadingConflictsProps) {
  const conflicts = conflictsOf(kept.entries);
  if (conflicts.length === 0) return null;
  return (
    <section className="flow" aria-label="Readings that contradict each other">
      <h2>
        <State state="unsure" word="Two readings of one thing" />
      </h2>
      <p>
        They were entered in two places at once. Until you choose, the calculation uses all of them. Measure
        again where you can.
      </p>
      {conflicts.map((conflict) => (
        <Conflict key={conflict[0]?.id} conflict={conflict} writer={kept.writer} change={change} />
      ))}
    </section>
  );
}

interface ConflictProps {
  readonly conflict: ReadingConflict;
  readonly writer: string;
  readonly change: ChangeVisit;
}

function Conflict({ conflict, writer, change }: ConflictProps) {
  const now = (): string => new Date().toISOString();
  return (
    <div className="flow">
      <h3>{readingPlace(conflict[0]!.reading)}</h3>
      <ul className="plain side-by-side">
        {conflict.map((entry) => (
          <li key={entry.id}>
            <span className="figure big">{readingValue(entry.reading)}</span>
            <span className="small soft">
              {entry.by ?? "this device"}
              {entry.writer === writer ? ", here" : ""}, {new Date(entry.at).toLocaleTimeString()}
            </span>
            <button
              type="button"
              onClick={() => {
                change((kept) => chooseReading(kept, conflict, entry.id, now()));
                announce(`Chosen: ${readingValue(entry.reading)}`);
              }}
            >
              Use {readingValue(entry.reading)}
            </button>
          </li>
        ))}
      </ul>
      <button
        type="button"
        className="word"
        onClick={() => {
          change((kept) => keepAll(kept, conflict, now()));
        }}
      >
        Each is right: they are readings of two moments
      </button>
    </div>
  );
}
