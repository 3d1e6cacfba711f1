import { go } from "../address/address.ts";
import { Link } from "../address/link.tsx";
import { ask } from "../engine/ask.ts";
import type { Desk } from "../keep/desk.ts";
import type { KeptScore } from "../keep/kept.ts";
import { useDesk, useKept } from "../keep/use-desk.ts";
import { Page } from "../page/page.tsx";
import { State } from "../page/state.tsx";
import { useWork } from "../page/use-work.tsx";
import { keptVisit } from "../visit/begin-visit.ts";
import { EXERCISES } from "./exercises.ts";

async function begin(desk: Desk, exercise: number): Promise<void> {
  const { name, ...practice } = EXERCISES[exercise]!;
  const visit = await ask("practiceVisit", practice);
  const id = `practice-${exercise + 1}`;
  // Begun again, it begins with nothing: what was entered before is no part of it.
  await desk.visits.remove(id);
  await desk.visits.keep(
    keptVisit({
      id,
      title: `Practice ${exercise + 1}: ${name}`,
      now: new Date().toISOString(),
      visit,
      exercise,
    }),
  );
  go(`/visits/${id}`);
}

/** Ten practice arrays, and what each took beside halving. */
export default function LearnPage() {
  const desk = useDesk();
  const { start, failure } = useWork();
  const scores = useKept((from) => from.scores.all(), "scores") ?? [];
  return (
    <Page
      title="Learn"
      under="Ten invented arrays whose truth is known. Take the steps, read what they say, name the place; then see it beside opening by halves."
    >
      <ol className="plain index">
        {EXERCISES.map(({ name }, exercise) => {
          const score = scores.find((one) => one.exercise === exercise);
          return (
            <li key={name} className="noted">
              <p>
                {exercise + 1}. {name}{" "}
                <button
                  type="button"
                  className="word"
                  onClick={() => {
                    start(begin(desk, exercise));
                  }}
                >
                  {score === undefined ? "Begin" : "Try again"}
                </button>
              </p>
              <p className="note">{score === undefined ? "not tried yet" : <Score score={score} />}</p>
            </li>
          );
        })}
      </ol>
      {failure}
      <Total scores={scores} />
      <p>
        The order of work on a real array is the same, with its cautions. Begin a real one under{" "}
        <Link to="/visits">Visits</Link>.
      </p>
    </Page>
  );
}

function Score({ score: { right, openings, halvingOpenings, minutes } }: { readonly score: KeptScore }) {
  return (
    <>
      <State state={right ? "proven" : "fault"} word={right ? "Found" : "Missed"} />, {openings}{" "}
      {openings === 1 ? "opening" : "openings"} against {halvingOpenings} by halves, about{" "}
      {Math.round(minutes)} min
    </>
  );
}

function Total({ scores }: { readonly scores: readonly KeptScore[] }) {
  if (scores.length === 0) return null;
  const sum = (of: (score: KeptScore) => number): number =>
    scores.reduce((total, score) => total + of(score), 0);
  return (
    <p className="lead">
      {sum(({ right }) => Number(right))} of {scores.length} found, with {sum(({ openings }) => openings)}{" "}
      connectors opened; halving would have opened {sum(({ halvingOpenings }) => halvingOpenings)}.
    </p>
  );
}
