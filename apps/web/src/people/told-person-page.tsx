import { counted } from "../page/counted.ts";
import "./people.css";
import { useState } from "react";
import { Link } from "../address/link.tsx";
import { FaultText } from "../desk/fault-text.tsx";
import { seesPeople } from "../desk/keeps-desk.ts";
import type { Me } from "../desk/records.ts";
import { useAnswer } from "../desk/use-answer.ts";
import { Page } from "../page/page.tsx";
import { AddressLine } from "./address-line.tsx";
import { EntryLine } from "./entry-line.tsx";
import { HabitsEdit } from "./habits-edit.tsx";
import { Concerns, LastTold } from "./told-line.tsx";
import type { ToldWhole } from "./told-records.ts";
import { allHabitsWords, nameOf } from "./told-words.ts";

interface ToldPersonProps {
  readonly site: string;
  readonly person: string;
  readonly me: Me;
}

/** Today where the reader is, YYYY-MM-DD. */
const today = (): string => new Intl.DateTimeFormat("en-CA").format(new Date());

/** One person over all sites: addresses, hours and absences, and where they stand. */
export default function ToldPersonPage({ site, person: id, me }: ToldPersonProps) {
  const path = `/api/told-people/${encodeURIComponent(site)}/${encodeURIComponent(id)}`;
  const { value, fault, again } = useAnswer<ToldWhole>(seesPeople(me) ? path : null, ["person", "delivery"]);
  const [said, setSaid] = useState<string | null>(null);
  const [changes, setChanges] = useState(0);
  const [onDate] = useState(today);
  const done = (text: string): void => {
    setSaid(text);
    setChanges(changes + 1);
    again();
  };
  return (
    <Page title={value === undefined ? `${id} at ${site}` : nameOf(value)}>
      <p>
        <Link to="/people">Everybody who is told</Link>
      </p>
      <FaultText fault={fault} />
      {said === null ? null : <p className="said">{said}</p>}
      {value === undefined ? null : (
        <Whole key={`${changes} ${value.entries.length}`} person={value} onDate={onDate} done={done} />
      )}
    </Page>
  );
}

interface WholeProps {
  readonly person: ToldWhole;
  readonly onDate: string;
  readonly done: (said: string) => void;
}

function Whole({ person, onDate, done }: WholeProps) {
  const { entries, ways, of, sites, aloneOn } = person;
  const mayChange = entries.some((entry) => entry.mayChange);
  return (
    <>
      <section className="flow" aria-label="Now">
        <p>
          <Concerns person={person} />
          Habits: {allHabitsWords(person)}, in the zone {person.zones.join(", ")}.
        </p>
        <p className="soft">
          <LastTold person={person} /> Answers that are given at the desk stand in the Audit under the
          account’s name.
        </p>
        <WhileAway person={person} aloneOn={aloneOn} />
      </section>
      <section className="flow">
        <h2>Addresses</h2>
        {ways.length === 0 ? <p>No site file gives an address, so that nothing can be sent.</p> : null}
        <ul className="plain index">
          {ways.map((way) => (
            <AddressLine
              key={`${way.channel} ${way.address}`}
              of={of}
              way={way}
              mayChange={mayChange}
              onDate={onDate}
              done={done}
            />
          ))}
        </ul>
      </section>
      <section className="flow">
        <h2>Hours and absences</h2>
        <HabitsEdit person={person} onDate={onDate} done={done} />
      </section>
      <section className="flow">
        <h2>Where they stand</h2>
        <ul className="plain index">
          {entries.map((entry) => (
            <EntryLine key={`${entry.site} ${entry.person}`} entry={entry} />
          ))}
        </ul>
        {sites > entries.length ? <p>and at {counted(sites - entries.length, "further site")}.</p> : null}
      </section>
    </>
  );
}

/** What an absence does to messages: as the desk does it, and nothing that it does not. */
function WhileAway({
  person: { away },
  aloneOn,
}: {
  readonly person: ToldWhole;
  readonly aloneOn: ToldWhole["aloneOn"];
}) {
  const few = aloneOn.slice(0, 5).map(({ site, path }) => `${site} ${path}`);
  return (
    <p>
      {away.length === 0 ? "No absence is on record. " : ""}
      While somebody is away, the others on the path are told instead; the site files name no other stand-in.
      The first message goes out at any hour; repeats wait until the person reads.
      {aloneOn.length === 0
        ? " Somebody else stands on each of these paths."
        : ` Nobody else stands on ${few.join(", ")}${aloneOn.length > few.length ? ` and ${aloneOn.length - few.length} more` : ""}: there messages go to this person all the same.`}
    </p>
  );
}
