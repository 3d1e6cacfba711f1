import "./people.css";
import { useState } from "react";
import { oneOf, useView } from "../address/use-view.ts";
import { BrokenAddressLine } from "../desk/broken-address-line.tsx";
import { FaultText } from "../desk/fault-text.tsx";
import { seesPeople } from "../desk/keeps-desk.ts";
import type { Me } from "../desk/records.ts";
import { useAnswer } from "../desk/use-answer.ts";
import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import { Page } from "../page/page.tsx";
import { useSettled } from "../page/use-settled.ts";
import { AccountsLink } from "./accounts-link.tsx";
import { ToldLine } from "./told-line.tsx";
import type { ToldPage as Told } from "./told-records.ts";
import { Asking } from "../page/asking.tsx";

const AT_ONCE = 50;
/** Who is shown, in words, and what counts them. */
const WHICH = [
  ["", "everybody", "all"],
  ["broken", "with a broken address", "broken"],
  ["away", "away or post ended", "away"],
] as const;
const PLAIN = { find: "", which: WHICH[0][0] };

/** Everybody who is told about faults, over all sites. */
export default function ToldPage({ me }: { readonly me: Me }) {
  if (!seesPeople(me))
    return (
      <Page title="People">
        <p>Who is told about faults is shown to service engineers, technicians and installers.</p>
      </Page>
    );
  return (
    <Page title="People" under="Everybody who is told about faults, once for all sites where they stand.">
      <AccountsLink me={me} />
      <List />
    </Page>
  );
}

function List() {
  const [{ find: typed, which }, show] = useView(PLAIN);
  const only = oneOf(WHICH, which);
  const [limit, setLimit] = useState(AT_ONCE);
  const find = useSettled(typed.trim());
  const query = new URLSearchParams({ find, limit: String(limit), ...(only === "" ? {} : { only }) });
  const answered = useAnswer<Told>(`/api/told-people?${query.toString()}`, ["site", "person", "delivery"]);
  const told = useLast(answered.value);
  return (
    <>
      <div className="fields">
        <Field words="Find" hint="address, id, role or site" value={typed} typed={show("find")} />
        <Choice
          words="Which"
          value={only}
          choices={WHICH.map(([one, shown, count]) => [
            one,
            told === null ? shown : `${shown} (${told[count]})`,
          ])}
          chosen={show("which")}
        />
      </div>
      <FaultText fault={answered.fault} />
      {told === null ? <Asking /> : null}
      {told?.found === 0 ? (
        <p>
          {told.all === 0
            ? "Nobody stands in the site files. Name people there, with an address each."
            : "Nobody fits."}
        </p>
      ) : null}
      <ul className="plain index">
        {told?.people.map((person) => (
          <ToldLine key={`${person.of.site} ${person.of.person}`} person={person} />
        ))}
      </ul>
      {told !== null && told.found > told.people.length ? (
        <p>
          {told.people.length} of {told.found}.{" "}
          {limit >= 200 ? (
            "Type to find the others."
          ) : (
            <button
              type="button"
              className="word"
              onClick={() => {
                setLimit(200);
              }}
            >
              Show more
            </button>
          )}
        </p>
      ) : null}
      {told === null || told.unnamed.length === 0 ? null : (
        <Unnamed all={told.unnamed} done={answered.again} />
      )}
    </>
  );
}

/** Of keepers, and of people who were taken out of a file. */
function Unnamed({ all, done }: { readonly all: Told["unnamed"]; readonly done: () => void }) {
  return (
    <section className="flow">
      <h2>Broken addresses that no site file names</h2>
      <p>
        They are those of the desk’s keepers, which stand in the place Settings, or of people who were taken
        out of a file.
      </p>
      <ul className="plain index">
        {all.map((one) => (
          <BrokenAddressLine key={`${one.channel} ${one.address}`} one={one} done={done} />
        ))}
      </ul>
    </section>
  );
}

/** The last answer, which stays while the next one is awaited. */
function useLast<Value>(value: Value | undefined): Value | null {
  const [last, setLast] = useState<Value | null>(null);
  if (value !== undefined && value !== last) setLast(value);
  return value ?? last;
}
