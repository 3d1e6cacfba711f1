import type { Path } from "@earthbell/engine";
import { beaconsOfDrill, type Drill, pathProof } from "@earthbell/model";
import { useId, useState } from "react";
import { State, type StateName } from "../page/state.tsx";
import { tellDesk } from "./ask-desk.ts";
import { DrillBeacons } from "./drill-beacons.tsx";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import { Longer } from "./longer.tsx";
import { MOST_DRILLS_SHOWN } from "./questions.ts";
import { useStep } from "./use-step.ts";

interface PathDrillsProps {
  readonly path: Path;
  readonly zone: string;
  readonly site: string;
  /** Day of the newest drill that the site's file tells of; null without one. */
  readonly filedOn: string | null;
  /** Of this path, the newest first. */
  readonly drills: readonly Drill[];
  readonly may: boolean;
  readonly done: () => void;
}

const STATES: Readonly<Record<ReturnType<typeof pathProof>["state"], readonly [StateName, string]>> = {
  proven: ["proven", "Proven by drill"],
  broken: ["fault", "Drill missed"],
  overdue: ["must", "Drill overdue"],
  unproven: ["unsure", "Not drilled by this desk"],
};

/** The drills of a path, and the next one: now, or at an instant. Only a path that sends messages can be drilled from here. */
export function PathDrills({ path, zone, site, filedOn, drills, may, done }: PathDrillsProps) {
  if (path.signal !== "message")
    return (
      <div className="flow later">
        <h3>Path {path.id}</h3>
        <p className="soft">An {path.signal} at the site: it is proved there, not from the desk.</p>
      </div>
    );
  const { state, text, order } = pathProof(drills, zone, Date.now());
  const [shown, word] = STATES[state];
  return (
    <div className="flow later">
      <h3>Path {path.id}</h3>
      <p>
        <State state={shown} word={word} /> {text}
        {may && order !== null ? ` ${order}` : null}
        {filedOn === null ? null : ` The site's file tells of a drill passed on ${filedOn}.`}
      </p>
      <Held drills={drills} />
      {drills
        .filter(({ ended }) => ended === null)
        .map((drill) => (
          <DrillBeacons key={drill.id} {...{ drill, may, done }} />
        ))}
      {may ? <Hold {...{ site, done }} path={path.id} /> : null}
    </div>
  );
}

/** Drills at first, and how many more each time. */
const [FIRST, PORTION] = [5, 20];

function Held({ drills }: { readonly drills: readonly Drill[] }) {
  const [rows, setRows] = useState(FIRST);
  const shown = drills.slice(0, Math.min(rows, MOST_DRILLS_SHOWN));
  const more = (): void => {
    setRows(rows + PORTION);
  };
  return (
    <>
      <HeldList drills={shown} />
      <Longer
        more={drills.length > MOST_DRILLS_SHOWN ? "some" : drills.length - shown.length}
        what="drills"
        longer={shown.length < MOST_DRILLS_SHOWN ? more : null}
        otherwise="Audit has the older ones."
      />
    </>
  );
}

function HeldList({ drills }: { readonly drills: readonly Drill[] }) {
  return (
    <ol className="plain history-of-case" reversed>
      {drills.map((drill) => (
        <li key={drill.id}>
          <span className="small soft">{instantWords(drill.startedAt)}</span>
          <span>
            {drill.ended === null
              ? `Under way until ${instantWords(drill.answerByAt)}`
              : drill.ended.outcome === "passed"
                ? "Passed"
                : "Missed"}
            : {answersOf(drill).join(", ")}
          </span>
        </li>
      ))}
    </ol>
  );
}

function answersOf(drill: Drill): readonly string[] {
  return [
    ...drill.recipients.map(({ person, acknowledgedAt }) =>
      acknowledgedAt === null ? `${person} has not answered` : `${person} answered`,
    ),
    ...beaconsOfDrill(drill).map(({ beacon, seen }) =>
      seen === null ? `nobody saw beacon ${beacon} burn` : `${seen.by} saw beacon ${beacon} burn`,
    ),
  ];
}

interface HoldProps {
  readonly site: string;
  readonly path: string;
  readonly done: () => void;
}

function Hold({ site, path, done }: HoldProps) {
  const [at, setAt] = useState("");
  const { busy, fault, said, take } = useStep();
  const place = `/api/sites/${encodeURIComponent(site)}/paths/${encodeURIComponent(path)}`;
  const plan = async (instant: number | null): Promise<string> =>
    (await tellDesk(`${place}/next-drill`, { at: instant }, "PUT")).text;
  return (
    <form
      className="flow"
      onSubmit={(event) => {
        event.preventDefault();
        take(async () => await plan(new Date(at).getTime()), done);
      }}
    >
      <p className="soft">
        A drill sends everybody on the path a message that says it is a drill, and waits for each to answer.
        Beacons in which the path ends are lit for it, and somebody says here that they saw them burn.
      </p>
      <button
        type="button"
        disabled={busy}
        onClick={() => {
          take(async () => (await tellDesk(`${place}/drills`, {})).text, done);
        }}
      >
        Hold a drill of {path} now
      </button>
      <div className="row">
        <PlannedAt path={path} at={at} typed={setAt} />
        <button type="submit" disabled={busy || at === ""}>
          Plan it
        </button>
        <button
          type="button"
          className="word"
          disabled={busy}
          onClick={() => {
            take(async () => await plan(null), done);
          }}
        >
          Plan none
        </button>
      </div>
      <FaultText fault={fault} />
      {said === null ? null : <p>{said}</p>}
    </form>
  );
}

interface PlannedAtProps {
  readonly path: string;
  readonly at: string;
  readonly typed: (at: string) => void;
}

function PlannedAt({ path, at, typed }: PlannedAtProps) {
  const id = useId();
  return (
    <div className="field narrow">
      <label htmlFor={id}>Next drill of {path}, your local time</label>
      <input
        id={id}
        type="datetime-local"
        value={at}
        onChange={(event) => {
          typed(event.currentTarget.value);
        }}
      />
    </div>
  );
}
