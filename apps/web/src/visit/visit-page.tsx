import { useEffect } from "react";
import { useAnswer } from "../engine/use-answer.ts";
import { measurer, NameThePlace } from "../learn/practice-desk.tsx";
import { useTheme } from "../look/theme.ts";
import { announce } from "../page/announce.tsx";
import { Page } from "../page/page.tsx";
import { useNarrow } from "../page/use-narrow.ts";
import { useAfterStep } from "./after-step.ts";
import { Figures, Strips, Verdict, Why } from "./finding-view.tsx";
import { HandOver } from "./hand-over.tsx";
import { NextStep } from "./next-step.tsx";
import { OwnReading } from "./own-reading.tsx";
import { Photos } from "./photos.tsx";
import { FindingOnRecord } from "./finding-on-record.tsx";
import { ReadingConflicts } from "./reading-conflicts.tsx";
import { ReadingsTaken } from "./readings-taken.tsx";
import { StandingLine } from "./standing-line.tsx";
import { useStandIn } from "./stand-in.ts";
import { useVisit } from "./use-visit.ts";
import "./visit.css";

/** The finder: what the readings say, what to do next and under which conditions, and every reading with its undo. */
export default function VisitPage({ id }: { readonly id: string }) {
  const { kept, lost, saved, refused, change } = useVisit(id);
  const found = useAnswer("find", kept === null ? null : [kept.visit]);
  const { value: finding, failed, underWay } = found;
  const after = useAfterStep(kept?.step, found);
  const small = useNarrow("screen");
  const roof = useTheme() === "roof";
  const standIn = useStandIn(kept, change);
  const because = finding?.because ?? "";
  const readings = kept?.visit.readings.length ?? 0;
  useEffect(() => {
    if (because !== "" && readings > 0) announce(because);
  }, [because, readings]);
  if (lost) return <Lost />;
  const exercise = kept?.practice?.exercise;
  if (kept === null) return <p className="soft">Opening the visit…</p>;
  // Where little is on the screen at once, what to do comes before the drawings; elsewhere after that of the likeliest string,
  // but for the first step: before it is done the strings show nothing yet, and it does not move under the hand.
  const drawnFirst = !small && !roof && readings > (kept.step === null ? 0 : kept.taken);
  const strips = (part: "all" | "likeliest" | "others") =>
    finding === null ? null : (
      <Strips {...{ visit: kept.visit, finding, part }} step={kept.step ?? finding.next[0] ?? null} />
    );
  return (
    <Page title={kept.title} under={<StandingLine {...{ kept, saved, refused }} />}>
      {failed === null ? null : (
        <p className="wrong" role="alert">
          These readings could not be calculated: {failed}
        </p>
      )}
      <ReadingConflicts {...{ kept, change }} />
      {finding === null ? null : (
        <div ref={after.said} className={underWay ? "said under-way flow" : "said flow"} aria-busy={underWay}>
          {readings > 0 ? <Verdict finding={finding} /> : null}
          {drawnFirst ? strips("likeliest") : null}
        </div>
      )}
      <NextStep
        {...{ kept, finding, change, standIn, after }}
        {...(exercise === undefined ? {} : { measure: measurer(exercise, kept, change) })}
      />
      {strips(drawnFirst ? "others" : "all")}
      {exercise === undefined || readings === 0 ? null : <NameThePlace kept={kept} exercise={exercise} />}
      <ReadingsTaken {...{ kept, change }} />
      {kept.step === null && exercise === undefined ? <OwnReading {...{ kept, change }} /> : null}
      {finding === null || readings === 0 ? null : (
        <section className="flow" aria-label="What the readings say">
          <h2>What the readings say</h2>
          <Figures finding={finding} />
          <Why visit={kept.visit} finding={finding} />
          {kept.place === null ? null : <FindingOnRecord {...{ kept, finding, change }} />}
        </section>
      )}
      {exercise === undefined ? (
        <>
          <Photos {...{ kept, change }} />
          <HandOver {...{ kept, change }} />
        </>
      ) : null}
    </Page>
  );
}

function Lost() {
  return (
    <Page title="No such visit here">
      <p>
        Neither this device nor a desk to which it is signed in has it. A visit that was not begun from a case
        lives on the device that began it until its file is handed over. Open the file under Visits.
      </p>
    </Page>
  );
}
