import { useEffect } from "react";
import { useAnswer } from "../engine/use-answer.ts";
import { measurer, NameThePlace } from "../learn/practice-desk.tsx";
import { announce } from "../page/announce.tsx";
import { Page } from "../page/page.tsx";
import { State } from "../page/state.tsx";
import { Figures, Strips, Verdict, Why } from "./finding-view.tsx";
import { HandOver } from "./hand-over.tsx";
import { NextStep } from "./next-step.tsx";
import { OwnReading } from "./own-reading.tsx";
import { Photos } from "./photos.tsx";
import { ReadingsTaken } from "./readings-taken.tsx";
import { useVisit } from "./use-visit.ts";
import "./visit.css";

/** The finder: what the readings say, what to do next and under which conditions, and every reading with its undo. */
export default function VisitPage({ id }: { readonly id: string }) {
  const { kept, lost, saved, refused, change } = useVisit(id);
  const { value: finding, failed, underWay } = useAnswer("find", kept === null ? null : [kept.visit]);
  const because = finding?.because ?? "";
  const readings = kept?.visit.readings.length ?? 0;
  useEffect(() => {
    if (because !== "" && readings > 0) announce(because);
  }, [because, readings]);
  if (lost) return <Lost />;
  const exercise = kept?.practice?.exercise;
  if (kept === null) return <p className="soft">Opening the visit…</p>;
  return (
    <Page title={kept.title} under={<Standing {...{ begun: kept.begun, saved, refused }} />}>
      {failed === null ? null : (
        <p className="wrong" role="alert">
          These readings could not be calculated: {failed}
        </p>
      )}
      {finding === null ? null : (
        <div className={underWay ? "under-way flow" : "flow"} aria-busy={underWay}>
          {readings > 0 ? <Verdict finding={finding} /> : null}
          <Strips visit={kept.visit} finding={finding} step={kept.step ?? finding.next[0] ?? null} />
        </div>
      )}
      <NextStep
        {...{ kept, finding, change }}
        {...(exercise === undefined ? {} : { measure: measurer(exercise, kept, change) })}
      />
      {exercise === undefined || readings === 0 ? null : <NameThePlace kept={kept} exercise={exercise} />}
      <ReadingsTaken {...{ kept, change }} />
      {kept.step === null && exercise === undefined ? <OwnReading {...{ kept, change }} /> : null}
      {finding === null || readings === 0 ? null : (
        <section className="flow" aria-label="What the readings say">
          <h2>What the readings say</h2>
          <Figures finding={finding} />
          <Why visit={kept.visit} finding={finding} />
        </section>
      )}
      {exercise === undefined ? (
        <>
          <Photos visit={kept.id} />
          <HandOver {...{ kept, change }} />
        </>
      ) : null}
    </Page>
  );
}

function Lost() {
  return (
    <Page title="No such visit on this device">
      <p>
        A visit lives on the device that began it until its file is handed over. Open the file under Visits.
      </p>
    </Page>
  );
}

interface StandingProps {
  readonly begun: string;
  readonly saved: boolean;
  readonly refused: string | null;
}

function Standing({ begun, saved, refused }: StandingProps) {
  if (refused !== null)
    return (
      <span role="alert">
        <State state="must" word="Not saved" /> This device refused to keep the last change ({refused}). Save
        the visit as a file below before you go on.
      </span>
    );
  return (
    <span className="small">
      Begun {new Date(begun).toLocaleString()}. {saved ? "Saved on this device." : "Saving…"}
    </span>
  );
}
