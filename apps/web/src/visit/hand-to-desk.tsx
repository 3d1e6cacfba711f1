import { type SubmitEvent, useId, useState, useSyncExternalStore } from "react";
import type { Case } from "../desk/records.ts";
import { maySignIn } from "../desk/session.ts";
import { sending } from "../desk/shared-desk.ts";
import { useAnswer } from "../desk/use-answer.ts";
import type { KeptVisit } from "../keep/kept.ts";
import { Choice } from "../page/choice.tsx";
import { useSettled } from "../page/use-settled.ts";
import type { ChangeVisit } from "./use-visit.ts";

interface HandToDeskProps {
  readonly kept: KeptVisit;
  readonly change: ChangeVisit;
}

/**
 * Says afterwards to which case or site of the desk a visit belongs, for one that was begun by hand; from then on it is handed
 * over like any other. Without signal the site is typed, and what the desk refuses can be corrected.
 */
export function HandToDesk({ kept, change }: HandToDeskProps) {
  const refused = useSyncExternalStore(sending.watch, () => sending.troubleOf(kept.id)?.later === false);
  if (!maySignIn() || kept.known || (kept.place !== null && !refused)) return null;
  return (
    <PlaceForm
      give={(place) => {
        change((now) => ({ ...now, place }));
      }}
    />
  );
}

interface NamedSite {
  readonly id: string;
  readonly name: string | null;
}

/** Where the desk names the first sites that fit what is typed; nothing is asked before something is. */
function namesPath(typed: string): string | null {
  return typed === "" ? null : `/api/site-names?${new URLSearchParams({ find: typed }).toString()}`;
}

function PlaceForm({ give }: { readonly give: (place: NonNullable<KeptVisit["place"]>) => void }) {
  const id = useId();
  const { value: cases = [], fault } = useAnswer<readonly Case[]>("/api/cases?state=open", ["case"]);
  const [which, setWhich] = useState("");
  const [site, setSite] = useState("");
  const { value: sites = [] } = useAnswer<readonly NamedSite[]>(namesPath(useSettled(site.trim())), []);
  const of = cases.find((one) => one.id === which);
  const choices = [
    ["", "none of the open ones"] as const,
    ...cases.map((one) => [one.id, `${one.site}, array ${one.array} (${one.id})`] as const),
  ];
  const named = (event: SubmitEvent): void => {
    event.preventDefault();
    if (of !== undefined) give({ site: of.site, case: of.id });
    else if (site.trim() !== "") give({ site: site.trim(), case: null });
  };
  return (
    <form className="flow" onSubmit={named} aria-label="Hand it to the desk">
      <p className="soft">
        This visit is on this device alone. Say where it belongs, and the desk gets it, with its photos, as
        soon as there is signal.
      </p>
      <div className="fields">
        <Choice words="Of the case" value={which} choices={choices} chosen={setWhich} />
        {of === undefined ? (
          <div className="field">
            <label htmlFor={id}>At the site</label>
            <input
              id={id}
              list={`${id}-sites`}
              autoComplete="off"
              value={site}
              aria-describedby={`${id}-hint`}
              onChange={(event) => {
                setSite(event.currentTarget.value);
              }}
            />
            <span id={`${id}-hint`} className="hint">
              {fault === null
                ? "its id; or type words of its name and choose"
                : "its id; the desk cannot be asked just now"}
            </span>
            <datalist id={`${id}-sites`}>
              {sites.map((one) => (
                <option key={one.id} value={one.id}>
                  {one.name ?? one.id}
                </option>
              ))}
            </datalist>
          </div>
        ) : null}
      </div>
      <button type="submit" disabled={of === undefined && site.trim() === ""}>
        Hand it to the desk
      </button>
    </form>
  );
}
