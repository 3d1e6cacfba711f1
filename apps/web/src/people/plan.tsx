import { counted } from "../page/counted.ts";
import { useState } from "react";
import { FaultText } from "../desk/fault-text.tsx";
import { tellDesk } from "../desk/ask-desk.ts";
import { type Stepping, useStep } from "../desk/use-step.ts";
import { InputFaults } from "../page/input-faults.tsx";
import { NoticeChange } from "./notice-change.tsx";
import type { Planned, Wanted } from "./told-records.ts";

/** Sites of a plan that are listed; the rest are counted. */
const MOST_SITES = 50;

export interface Planning {
  readonly plan: { readonly wanted: Wanted; readonly planned: Planned } | null;
  readonly looking: Stepping;
  readonly look: (wanted: Wanted) => void;
  readonly drop: () => void;
}

/** Asks the desk what a change would come to; whatever is changed in the form after that drops the answer. */
export function usePlan(): Planning {
  const [plan, setPlan] = useState<Planning["plan"]>(null);
  const looking = useStep();
  return {
    plan,
    looking,
    look: (wanted) => {
      setPlan(null);
      looking.take(async () => {
        const planned = await tellDesk<Planned>("/api/told-people/preview", wanted);
        setPlan({ wanted, planned });
        return planned.sites.length === 0 ? "Nothing would change." : null;
      });
    },
    drop: () => {
      setPlan(null);
    },
  };
}

interface PlanProps {
  readonly planning: Planning;
  readonly onDate: string;
  readonly done: (said: string) => void;
}

/** What a change would change in which site file, what it does to the time to notice, and the change itself. */
export function Plan({ planning: { plan, looking }, onDate, done }: PlanProps) {
  const applying = useStep();
  const apply = (): void => {
    if (plan === null) return;
    const { wanted, planned } = plan;
    applying.take(async () => {
      const { text } = await tellDesk("/api/told-people/apply", { ...wanted, seen: planned.seen });
      done(text);
      return text;
    });
  };
  return (
    <>
      <Trouble step={looking} />
      {looking.busy ? <p className="soft">Looking at the site files…</p> : null}
      {plan === null ? null : (
        <section className="flow" aria-label="What would change">
          <Changes planned={plan.planned} />
          {plan.wanted.change.address === undefined ? (
            <NoticeChange sites={plan.planned.sites} onDate={onDate} />
          ) : null}
          {plan.planned.sites.length === 0 ? null : (
            <p>
              <button type="button" className="main" disabled={applying.busy} onClick={apply}>
                {applying.busy ? "Changing…" : `Change ${counted(plan.planned.sites.length, "site file")}`}
              </button>
            </p>
          )}
        </section>
      )}
      <Trouble step={applying} />
    </>
  );
}

function Trouble({ step: { fault } }: { readonly step: Stepping }) {
  if (fault !== null && fault.faults.length > 0)
    return <InputFaults file="The site file" faults={fault.faults} />;
  return <FaultText fault={fault} />;
}

function Changes({ planned: { sites, unchanged, notAllowed } }: { readonly planned: Planned }) {
  const rewritten = sites.filter((one) => one.rewritten).map(({ site }) => site);
  return (
    <>
      <h3>What would change</h3>
      <p role="status">
        {sites.length === 0
          ? "Nothing."
          : `${counted(sites.length, "site file")}, ${sites.length === 1 ? "" : "each "}as the next revision.`}
        {unchanged === 0 ? "" : ` ${counted(unchanged, "site")} as asked already.`}
        {notAllowed === 0 ? "" : ` ${counted(notAllowed, "site")} not yours to change.`}
      </p>
      {rewritten.length === 0 ? null : (
        <p>Written anew, so that remarks in the file are lost: {rewritten.slice(0, 10).join(", ")}.</p>
      )}
      {sites.length === 0 ? null : (
        <div className="scroll" role="region" aria-label="Changes by site" tabIndex={0}>
          <table className="changes">
            <thead>
              <tr>
                {["Site", "Person", "What", "Before", "Then"].map((head) => (
                  <th key={head} scope="col">
                    {head}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {sites.slice(0, MOST_SITES).flatMap(({ site, changes }) =>
                changes.map(({ person, what, before, now }) => (
                  <tr key={`${site} ${person} ${what}`}>
                    <th scope="row">{site}</th>
                    <td>{person}</td>
                    <td>{what}</td>
                    <td>{before ?? "not said"}</td>
                    <td>{now ?? "not said"}</td>
                  </tr>
                )),
              )}
            </tbody>
          </table>
        </div>
      )}
      {sites.length > MOST_SITES ? <p>and {sites.length - MOST_SITES} more sites.</p> : null}
    </>
  );
}
