import { Link } from "../address/link.tsx";
import { oneOf, useView } from "../address/use-view.ts";
import { Choice } from "../page/choice.tsx";
import { Page } from "../page/page.tsx";
import { State, type StateName } from "../page/state.tsx";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import { Longer } from "./longer.tsx";
import type { CaseLine, CaseLines } from "./records.ts";
import { useLonger } from "./use-longer.ts";
import { Asking } from "../page/asking.tsx";

const WHICH = [
  ["open", "Open"],
  ["closed", "Closed"],
  ["all", "All"],
] as const;
const PLAIN = { which: WHICH[0][0] };

/** Every earth fault of the desk, the newest first. */
export default function CaseList() {
  const [view, show] = useView(PLAIN);
  const which = oneOf(WHICH, view.which);
  return (
    <Page title="Cases" under="One for each earth fault, from its first sign to its signed close.">
      <div className="narrow">
        <Choice words="Which" value={which} choices={WHICH} chosen={show("which")} />
      </div>
      <Cases key={which} which={which} />
    </Page>
  );
}

const STATES: Readonly<Record<CaseLine["state"], readonly [StateName, string]>> = {
  closed: ["proven", "Closed"],
  present: ["fault", "Present"],
  ready: ["must", "Ready to close"],
  unsigned: ["must", "To be signed"],
};

function Cases({ which }: { readonly which: string }) {
  const { value, fault, longer } = useLonger<CaseLines>(
    (rows) => `/api/case-lines?state=${which}&limit=${rows}`,
    ["case", "alarm"],
  );
  const cases = value?.cases ?? [];
  return (
    <>
      <FaultText fault={fault} />
      {value === undefined && fault === null ? <Asking /> : null}
      {value?.count === 0 ? (
        <p>No such case. A case opens by itself with the first sign of a fault.</p>
      ) : null}
      <ul className="plain index">
        {cases.map(({ id, site, name, array, openedAt, state }) => (
          <li key={id} className="noted">
            <p>
              <State state={STATES[state][0]} word={STATES[state][1]} />{" "}
              <Link to={`/cases/${encodeURIComponent(id)}`}>
                {name ?? site}, array {array}
              </Link>
            </p>
            <p className="note">
              case {id}, opened {instantWords(openedAt)}
            </p>
          </li>
        ))}
      </ul>
      <Longer
        more={(value?.count ?? 0) - cases.length}
        what="cases"
        longer={longer}
        otherwise="Those of one site stand on its page in the register."
      />
    </>
  );
}
