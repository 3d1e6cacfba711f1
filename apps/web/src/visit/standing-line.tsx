import { useEffect, useSyncExternalStore } from "react";
import { instantWords } from "../desk/instant.ts";
import { Link } from "../address/link.tsx";
import { sending, sharedDesk } from "../desk/shared-desk.ts";
import type { KeptVisit } from "../keep/kept.ts";
import { waitingEntries } from "../keep/kept-entries.ts";
import { useKept } from "../keep/use-desk.ts";
import { State } from "../page/state.tsx";

interface StandingLineProps {
  readonly kept: KeptVisit;
  readonly saved: boolean;
  readonly refused: string | null;
}

/** Where everything of a visit is: on this device, and what of it at the desk. */
export function StandingLine({ kept, saved, refused }: StandingLineProps) {
  if (refused !== null)
    return (
      <span role="alert">
        <State state="must" word="Not saved" /> This device refused to keep the last change ({refused}). Save
        the visit as a file below before you go on.
      </span>
    );
  return (
    <>
      <span className="small">
        Begun {instantWords(Date.parse(kept.begun))}. {saved ? "Saved on this device." : "Saving…"}
      </span>
      {kept.place === null ? null : <AtDesk kept={kept} place={kept.place} />}
    </>
  );
}

interface AtDeskProps {
  readonly kept: KeptVisit;
  readonly place: NonNullable<KeptVisit["place"]>;
}

function AtDesk({ kept, place }: AtDeskProps) {
  const { id } = kept;
  useEffect(() => {
    let stop = sharedDesk.follow(id);
    // Whatever happened while there was no signal is asked for at once.
    const again = (): void => {
      stop();
      stop = sharedDesk.follow(id);
    };
    window.addEventListener("online", again);
    return () => {
      window.removeEventListener("online", again);
      stop();
    };
  }, [id]);
  return (
    <span className="small row" role="status">
      <Sent kept={kept} />
      {place.case === null ? null : <Link to={`/cases/${encodeURIComponent(place.case)}`}>To its case</Link>}
    </span>
  );
}

function Sent({ kept }: { readonly kept: KeptVisit }) {
  const { id } = kept;
  const trouble = useSyncExternalStore(sending.watch, () => sending.troubleOf(id));
  const busy = useSyncExternalStore(sending.watch, () => sending.underWay(id));
  const photos = (useKept((desk) => desk.photos.of(id), `unsent ${id}`) ?? []).filter(({ sent }) => !sent);
  const entries = waitingEntries(kept).length;
  if (kept.known && entries + photos.length === 0) return <State state="proven" word="At the desk" />;
  const what = waits(entries, photos.length);
  if (trouble === null) return <span>{busy ? `Sending ${what} to the desk…` : `${what} to be sent.`}</span>;
  return (
    <>
      <State state={trouble.later ? "unsure" : "must"} word={trouble.later ? "Waiting" : "Not sent"} /> {what}
      , kept on this device. {trouble.text}{" "}
      <button
        type="button"
        className="word"
        onClick={() => {
          sending.send(id);
        }}
      >
        Send now
      </button>
    </>
  );
}

function waits(entries: number, photos: number): string {
  const of = (count: number, one: string, many: string): readonly string[] =>
    count === 0 ? [] : [count === 1 ? `1 ${one}` : `${count} ${many}`];
  const parts = [...of(entries, "entry", "entries"), ...of(photos, "photo", "photos")];
  return parts.length === 0 ? "The visit" : parts.join(" and ");
}
