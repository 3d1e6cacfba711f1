import { beaconsOfDrill, type Drill, type DrillBeacon, drillLightEndsAt } from "@earthbell/model";
import { useId, useState } from "react";
import { State } from "../page/state.tsx";
import { tellDesk } from "./ask-desk.ts";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import { useStep } from "./use-step.ts";

interface DrillBeaconsProps {
  /** One that is under way. */
  readonly drill: Drill;
  readonly may: boolean;
  readonly done: () => void;
}

/** The beacons that a drill lights: that they burn for a drill, and the word of somebody who saw them. */
export function DrillBeacons({ drill, may, done }: DrillBeaconsProps) {
  return beaconsOfDrill(drill).map((beacon) => (
    <Beacon key={beacon.beacon} {...{ drill, beacon, may, done }} />
  ));
}

interface BeaconProps extends DrillBeaconsProps {
  readonly beacon: DrillBeacon;
}

function Beacon({ drill, beacon, may, done }: BeaconProps) {
  const { beacon: id, saysDrill, seen } = beacon;
  const endsAt = drillLightEndsAt(drill, beacon);
  const burns = Date.now() < endsAt;
  if (seen !== null)
    return (
      <p>
        <State state="proven" word="Seen" /> {seen.by} saw beacon {id} burn on {instantWords(seen.at)}.
      </p>
    );
  return (
    <div className="flow">
      <p>
        <State state="must" word={burns ? "Burns for a drill" : "Not seen yet"} />{" "}
        {burns
          ? `The desk has beacon ${id} burn for this drill until ${instantWords(endsAt)} at the longest, sooner once everybody has acknowledged. Look at it before you acknowledge.`
          : `Beacon ${id} is out again: the drill lit it until ${instantWords(endsAt)}. Nobody has said yet that they saw it burn.`}
        {burns && !saysDrill
          ? " It cannot show that it is a drill: whether there is a fault, too, says the page Now."
          : ""}
      </p>
      {may ? <SeenForm drill={drill.id} beacon={id} burns={burns} done={done} /> : null}
    </div>
  );
}

interface SeenFormProps {
  readonly drill: string;
  readonly beacon: string;
  readonly burns: boolean;
  readonly done: () => void;
}

function SeenForm({ drill, beacon, burns, done }: SeenFormProps) {
  const id = useId();
  const [at, setAt] = useState("");
  const { busy, fault, said, take } = useStep();
  const place = `/api/drills/${encodeURIComponent(drill)}/beacons/${encodeURIComponent(beacon)}/seen`;
  const tell = (body: object): void => {
    take(async () => (await tellDesk(place, body)).text, done);
  };
  return (
    <form
      className="flow"
      onSubmit={(event) => {
        event.preventDefault();
        tell({ at: new Date(at).getTime() });
      }}
    >
      {burns ? (
        <button
          type="button"
          disabled={busy}
          onClick={() => {
            tell({});
          }}
        >
          I see {beacon} burning now
        </button>
      ) : null}
      <div className="row">
        <div className="field narrow">
          <label htmlFor={id}>I saw {beacon} burn at, your local time</label>
          <input
            id={id}
            type="datetime-local"
            value={at}
            onChange={(event) => {
              setAt(event.currentTarget.value);
            }}
          />
        </div>
        <button type="submit" disabled={busy || at === ""}>
          Say so
        </button>
      </div>
      <FaultText fault={fault} />
      {said === null ? null : <p>{said}</p>}
    </form>
  );
}
