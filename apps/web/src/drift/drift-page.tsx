import type { FleetFinding } from "@earthbell/engine";
import { startTransition, useEffect, useReducer, useState } from "react";
import { HeadlineText } from "./headline-text.tsx";
import { Link } from "../address/link.tsx";
import { oneOf, useView } from "../address/use-view.ts";
import { DeskFault, passes, readDesk, tellDesk } from "../desk/ask-desk.ts";
import { useAgain } from "../desk/use-again.ts";
import { FaultText } from "../desk/fault-text.tsx";
import { InsulationHistory } from "../desk/insulation-history.tsx";
import { Choice } from "../page/choice.tsx";
import { InputFaults } from "../page/input-faults.tsx";
import { Page } from "../page/page.tsx";
import { TextFile, type TextOfFile } from "../papers/text-file.tsx";
import { type Drift, TRAIT_WORDS } from "./drift-records.ts";
import { Asking } from "../page/asking.tsx";

const ORDERS = [
  ["weight", "Risk within a year"],
  ["days", "Days to the threshold"],
] as const;
const PLAIN = { by: ORDERS[0][0] };
/** Rows of a table before the rest is folded away. */
const MOST_ROWS = 50;

/** The drift of the fleet, asked again until every array has been worked out, and after a fault that passes. */
function useDrift(by: string, table: TextOfFile | null) {
  const [drift, setDrift] = useState<Drift>();
  const [fault, setFault] = useState<DeskFault | null>(null);
  const [round, again] = useReducer((count: number) => count + 1, 0);
  useAgain(again, fault !== null && passes(fault));
  useEffect(() => {
    let gone = false;
    const isGone = (): boolean => gone;
    const ask = async (): Promise<void> => {
      for (let pending = 1; pending > 0 && !isGone(); ) {
        const path = `/api/drift?by=${by}`;
        const answer =
          table === null
            ? await readDesk<Drift>(path)
            : await tellDesk<Drift>(path, new Blob([table.text], { type: "text/csv" }));
        if (isGone()) return;
        ({ pending } = answer);
        startTransition(() => {
          setDrift(answer);
          setFault(null);
        });
      }
    };
    ask().catch((error: unknown) => {
      if (!isGone())
        setFault(error instanceof DeskFault ? error : new DeskFault("PAGE_FAULT", String(error)));
    });
    return () => {
      gone = true;
    };
  }, [by, table, round]);
  return { drift, fault };
}

/** Where insulation sinks, which array to go to first, and what those that drift have in common. */
export default function DriftPage() {
  const [view, show] = useView(PLAIN);
  const by = oneOf(ORDERS, view.by);
  const [table, setTable] = useState<TextOfFile | null>(null);
  const { drift, fault } = useDrift(by, table);
  return (
    <Page
      title="Drift"
      under="Where insulation sinks, and what those arrays share. Risk is the chance to reach the threshold within a year, times consequence."
    >
      {fault !== null && fault.faults.length > 0 ? (
        <InputFaults file={table?.name ?? "The table"} faults={fault.faults} />
      ) : (
        <FaultText fault={fault} />
      )}
      <div className="fields">
        <Choice words="In the order of" value={by} choices={ORDERS} chosen={show("by")} />
        <TextFile
          words="What the arrays are"
          hint="a table (CSV): array as site/array, and any of connector, batch, installer, place, consequence"
          accept=".csv,text/csv"
          file={table}
          chosen={setTable}
        />
      </div>
      {drift === undefined ? fault === null ? <Asking /> : null : <Shown drift={drift} />}
    </Page>
  );
}

function Shown({ drift: { pending, fleet, moreGroups, names } }: { readonly drift: Drift }) {
  if (fleet.arrays === 0 && pending === 0)
    return (
      <p>
        No insulation has been heard yet. The desk notes it each morning once a device tells it, or once a
        table of readings is handed in.
      </p>
    );
  return (
    <>
      <p role="status">
        {fleet.arrays === 1 ? "One array" : `${fleet.arrays} arrays`}, {fleet.judged} with enough readings to
        judge; {fleet.drifting} drift.
        {pending === 0 ? "" : ` ${pending} are still being worked out.`}
      </p>
      <section className="flow">
        <h2>Where to go first</h2>
        <Ranking ranking={fleet.ranking} names={names} />
      </section>
      <section className="flow">
        <h2>What those that drift have in common</h2>
        <Groups groups={fleet.groups} more={moreGroups} />
        <p className="small soft">{fleet.note}</p>
      </section>
    </>
  );
}

interface RankingProps {
  readonly ranking: FleetFinding["ranking"];
  readonly names: Drift["names"];
}

function Ranking({ ranking, names }: RankingProps) {
  const [all, setAll] = useState(false);
  const shown = all ? ranking : ranking.slice(0, MOST_ROWS);
  return (
    <>
      <ol className="plain index">
        {shown.map((one) => (
          <Ranked key={one.array} {...one} nameOf={(site) => names[site] ?? site} />
        ))}
      </ol>
      {ranking.length > shown.length ? (
        <button
          type="button"
          className="word"
          onClick={() => {
            setAll(true);
          }}
        >
          Show the first {ranking.length}
        </button>
      ) : null}
    </>
  );
}

type RankedProps = FleetFinding["ranking"][number] & { readonly nameOf: (site: string) => string };

/** One array of the ranking; its drawing is made when somebody looks at it. */
function Ranked({ array, headline, days, withinYear, consequence, reason, visit, nameOf }: RankedProps) {
  const [open, setOpen] = useState(false);
  const cut = array.lastIndexOf("/");
  const [site, id] = [array.slice(0, cut), array.slice(cut + 1)];
  const ahead = [
    ...(days === null || days === 0 ? [] : [`${days} days to the threshold`]),
    // The headline says already of one that has reached it.
    ...(headline.reached !== null
      ? []
      : [withinYear === null ? "chance not known" : `${percent(withinYear)} within a year`]),
    ...(consequence === 1 ? [] : [`consequence ${consequence}`]),
  ].join(", ");
  const more = reason === headline.below ? "" : reason;
  return (
    <li>
      <p>
        <Link to={`/register/${encodeURIComponent(site)}`}>
          {nameOf(site)}, array {id}
        </Link>
        : <HeadlineText headline={headline} />
      </p>
      {ahead === "" && more === "" ? null : (
        <p className="small">
          {ahead === "" ? "" : `${ahead}. `}
          <span className="soft">{more}</span>
        </p>
      )}
      {visit === null ? null : (
        <p className="small">
          Worth a visit. By: <strong>{visit.by}</strong>
        </p>
      )}
      <details
        onToggle={(event) => {
          setOpen(event.currentTarget.open);
        }}
      >
        <summary>Its history</summary>
        {open ? <InsulationHistory site={site} array={id} /> : null}
      </details>
    </li>
  );
}

interface GroupsProps {
  readonly groups: FleetFinding["groups"];
  readonly more: number;
}

function Groups({ groups, more }: GroupsProps) {
  if (groups.length === 0)
    return (
      <p>
        Nothing is known that would tell arrays apart. Site files hold module type and place; a table above
        adds connectors, batches and installers.
      </p>
    );
  return (
    <>
      <div className="scroll" role="region" aria-label="Groups of arrays" tabIndex={0}>
        <table>
          <thead>
            <tr>
              {["What", "Which", "Drift", "Share, 90 %", "p, adjusted"].map((head) => (
                <th key={head} scope="col">
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {groups.map(({ trait, name, drifting, arrays, low, high, adjustedP, standsOut }) => (
              <tr key={`${trait} ${name}`}>
                <td>{TRAIT_WORDS[trait]}</td>
                <th scope="row">
                  {name}
                  {standsOut ? ": stands out" : ""}
                </th>
                <td className="figure">
                  {drifting} of {arrays}
                </td>
                <td className="figure">
                  {percent(low)} to {percent(high)}
                </td>
                <td className="figure">{adjustedP.toFixed(3)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {more === 0 ? null : (
        <p className="small">{more} more groups were compared; none of them stands out more than these.</p>
      )}
    </>
  );
}

/** What is less than one in ten thousand has no digits worth reading. */
function percent(share: number): string {
  if (share > 0 && share < 1e-4) return "under 0.01 %";
  return `${Number((share * 100).toPrecision(2))} %`;
}
