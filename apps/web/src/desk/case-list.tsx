import { needsToClose } from "@earthbell/model";
import { useState } from "react";
import { Link } from "../address/link.tsx";
import { Choice } from "../page/choice.tsx";
import { Page } from "../page/page.tsx";
import { State } from "../page/state.tsx";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import type { Case } from "./records.ts";
import { useAnswer } from "./use-answer.ts";

const WHICH = [
  ["open", "Open"],
  ["closed", "Closed"],
  ["all", "All"],
] as const;

/** Every earth fault of the desk, the newest first. */
export default function CaseList() {
  const [which, setWhich] = useState("open");
  const { value, fault } = useAnswer<readonly Case[]>(`/api/cases?state=${which}`, ["case"]);
  return (
    <Page title="Cases" under="One for each earth fault, from its first sign to its signed close.">
      <div className="narrow">
        <Choice words="Which" value={which} choices={WHICH} chosen={setWhich} />
      </div>
      <FaultText fault={fault} />
      {value?.length === 0 ? (
        <p>No such case. A case opens by itself with the first sign of a fault.</p>
      ) : null}
      <ul className="plain index">
        {value?.map((one) => (
          <li key={one.id} className="noted">
            <p>
              <CaseState one={one} />{" "}
              <Link to={`/cases/${encodeURIComponent(one.id)}`}>
                {one.site}, array {one.array}
              </Link>
            </p>
            <p className="note">
              case {one.id}, opened {instantWords(one.openedAt)}
            </p>
          </li>
        ))}
      </ul>
    </Page>
  );
}

function CaseState({ one }: { readonly one: Case }) {
  if (one.closed !== null) return <State state="proven" word="Closed" />;
  if (one.presentAlarms.length > 0) return <State state="fault" word="Present" />;
  const ready = needsToClose(one).every(({ met }) => met);
  return <State state="must" word={ready ? "Ready to close" : "To be signed"} />;
}
