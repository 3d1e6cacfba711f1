import type { ScenarioFault } from "@earthbell/engine";
import { type SubmitEvent, useState } from "react";
import { Link } from "../address/link.tsx";
import { ask } from "../engine/ask.ts";
import type { Desk } from "../keep/desk.ts";
import type { KeptVisit } from "../keep/kept.ts";
import { useDesk } from "../keep/use-desk.ts";
import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import { State } from "../page/state.tsx";
import { withDecimalPoint } from "../page/typed-number.ts";
import { useWork } from "../page/use-work.tsx";
import { takeReading } from "../visit/change-visit.ts";
import type { Measure } from "../visit/stand-in.ts";
import type { ChangeVisit } from "../visit/use-visit.ts";
import { EXERCISES } from "./exercises.ts";
import { effortOf, type Guess, halvingEffort, isRight } from "./score.ts";

/** Answers a step of a practice visit from the simulated array, one reading after the other. */
export function measurer(exercise: number, kept: KeptVisit, change: ChangeVisit): Measure {
  const { kind, seed } = EXERCISES[exercise]!;
  return async (step) => {
    const wanted = step.readings.slice(kept.step === null ? 0 : kept.taken);
    for (const reading of await ask("practiceMeasure", { kind, seed }, wanted, kept.visit.readings.length))
      change((now) => takeReading(now, now.step ?? step, reading, new Date().toISOString()));
  };
}

interface Told {
  readonly right: boolean;
  readonly faults: readonly ScenarioFault[];
}

interface Answered {
  readonly kept: KeptVisit;
  readonly exercise: number;
  readonly guess: Guess;
}

async function scored(desk: Desk, { kept, exercise, guess }: Answered): Promise<Told> {
  const { kind, seed } = EXERCISES[exercise]!;
  const faults = await ask("practiceTruth", { kind, seed });
  const right = isRight(guess, faults);
  const { openings, minutes } = effortOf(kept.visit);
  const halvingOpenings = halvingEffort(kept.visit).openings;
  await desk.scores.keep({
    exercise,
    openings,
    minutes,
    halvingOpenings,
    right,
    on: new Date().toISOString(),
  });
  return { right, faults };
}

/** Where the learner names the place; then the truth and the score are told and kept. */
export function NameThePlace({ kept, exercise }: { readonly kept: KeptVisit; readonly exercise: number }) {
  const desk = useDesk();
  const [string, setString] = useState(kept.visit.strings[0]!.id);
  const [at, setAt] = useState("");
  const { start, failure } = useWork();
  const [told, setTold] = useState<Told | null>(null);
  const tell = async (guess: Guess): Promise<void> => {
    setTold(await scored(desk, { kept, exercise, guess }));
  };
  const named = (event: SubmitEvent): void => {
    event.preventDefault();
    const number = Number(withDecimalPoint(at));
    if (at.trim() !== "" && Number.isFinite(number)) start(tell({ string, at: number }));
  };
  if (told !== null) return <Truth {...told} kept={kept} />;
  return (
    <section className="flow" aria-label="Name the place">
      <h2>Where is it?</h2>
      <form className="fields" onSubmit={named}>
        <Choice
          words="String"
          value={string}
          choices={kept.visit.strings.map(({ id }) => [id, id] as const)}
          chosen={setString}
        />
        <Field
          words="Modules from −"
          hint="7 is between modules 7 and 8"
          kind="figures"
          value={at}
          typed={setAt}
        />
        <button type="submit">It is there</button>
      </form>
      {failure}
      <button
        type="button"
        className="word"
        onClick={() => {
          start(tell(null));
        }}
      >
        There is no damaged place
      </button>
    </section>
  );
}

interface TruthProps extends Told {
  readonly kept: KeptVisit;
}

function Truth({ right, faults, kept }: TruthProps) {
  const own = effortOf(kept.visit);
  const halving = halvingEffort(kept.visit);
  return (
    <section className="flow" role="status">
      <h2>
        <State state={right ? "proven" : "fault"} word={right ? "Found" : "Missed"} />
      </h2>
      {faults.length === 0 ? <p>The string was sound.</p> : null}
      {faults.map((fault) =>
        "at" in fault ? (
          <p key={`${fault.string} ${fault.at}`}>
            Damaged: {fault.string}, {Number(fault.at.toFixed(2))} modules from −,{" "}
            {Number(fault.ohms.toPrecision(3))} Ω to earth.
          </p>
        ) : null,
      )}
      <p>
        {own.openings} {own.openings === 1 ? "connector" : "connectors"} opened, about{" "}
        {Math.round(own.minutes)} min. By halves: {halving.openings}, about {Math.round(halving.minutes)} min.
      </p>
      <p>
        <Link to="/learn">To the next one</Link>
      </p>
    </section>
  );
}
