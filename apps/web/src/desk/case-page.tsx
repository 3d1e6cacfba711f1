import { cautionsFor } from "@earthbell/engine";
import { lazy, Suspense } from "react";
import { Link } from "../address/link.tsx";
import { Page } from "../page/page.tsx";
import { BeginVisitThere } from "./begin-visit-there.tsx";
import { CaseAcknowledge } from "./case-acknowledge.tsx";
import { CaseAlarms } from "./case-alarms.tsx";
import { CaseVisits } from "./case-visits.tsx";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import { casePath } from "./questions.ts";
import type { CaseWhole, Me } from "./records.ts";
import { useAnswer } from "./use-answer.ts";
import { useSite } from "./use-sites.ts";
import { Asking } from "../page/asking.tsx";

/** Fetched apart: whoever opens a case reads first what it is, what kills there, and where to begin. */
const CaseWork = lazy(async () => await import("./case-work.tsx"));

/**
 * One earth fault from its first sign to its signed close. Whoever is woken by it answers for it first, which is done from
 * anywhere; what kills stands before everything that is done at the array.
 */
export default function CasePage({ id, me }: { readonly id: string; readonly me: Me }) {
  const { value, fault, again } = useAnswer<CaseWhole>(casePath(id), ["case", "alarm", "delivery"]);
  const site = useSite(value?.case.site ?? null, ["site"]).line;
  if (value === undefined)
    return (
      <Page title={`Case ${id}`}>
        <FaultText fault={fault} />
        {fault === null ? <Asking /> : null}
      </Page>
    );
  const { case: one, alarms, told } = value;
  const name = site?.name ?? one.site;
  const steps = { one, me, done: again };
  const isWorked = one.closed === null && me.role !== "owner";
  return (
    <Page
      title={`${name}, array ${one.array}`}
      under={`Case ${one.id}, opened ${instantWords(one.openedAt)}${one.closed === null ? "" : `, closed by ${one.closed.by}`}`}
    >
      <FaultText fault={fault} />
      {one.recurrenceOf === null ? null : (
        <p>
          The fault of{" "}
          <Link to={`/cases/${encodeURIComponent(one.recurrenceOf)}`}>case {one.recurrenceOf}</Link> has come
          back.
        </p>
      )}
      <CaseAlarms alarms={alarms} />
      {isWorked ? <CaseAcknowledge {...steps} alarms={alarms} /> : null}
      {one.closed === null ? <Cautions /> : null}
      {isWorked ? (
        <section className="flow">
          <h2>Find it</h2>
          <p>The finder works out from few readings where the damage is, and tells the next one to take.</p>
          <BeginVisitThere site={one.site} array={one.array} of={one.id} />
          <CaseVisits of={one.id} />
        </section>
      ) : null}
      <Suspense fallback={<Asking />}>
        <CaseWork {...steps} alarms={alarms} told={told} />
      </Suspense>
    </Page>
  );
}

function Cautions() {
  return (
    <section className="flow" aria-label="Cautions">
      <h2>Before anybody goes there</h2>
      <ul>
        {cautionsFor("arrive").map(({ id, text }) => (
          <li key={id}>{text}</li>
        ))}
      </ul>
    </section>
  );
}
