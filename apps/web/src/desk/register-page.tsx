import { useDeferredValue, useMemo, useState } from "react";
import { Link } from "../address/link.tsx";
import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import { Page } from "../page/page.tsx";
import { saveFile } from "../page/save-file.ts";
import { State } from "../page/state.tsx";
import { FaultText } from "./fault-text.tsx";
import type { SiteLine } from "./records.ts";
import { csvOf, filtered, sorted, type SortBy } from "./register-rows.ts";
import { useAnswer } from "./use-answer.ts";
import { useWindow } from "./use-window.ts";

const ROW_REM = 3.25;
const SORTS = [
  ["need", "What needs a person first"],
  ["name", "Name"],
  ["id", "Id of the file"],
  ["put", "Newest file first"],
] as const;

/** Every site that the desk watches. */
export default function RegisterPage() {
  const { value, fault } = useAnswer<readonly SiteLine[]>("/api/sites", ["site", "case", "alarm"]);
  const [typed, setTyped] = useState("");
  const [by, setBy] = useState<SortBy>("need");
  const asked = useDeferredValue(typed);
  const inOrder = useMemo(() => sorted(value ?? [], by), [value, by]);
  const shown = useMemo(() => filtered(inOrder, asked), [inOrder, asked]);
  return (
    <Page title="Register" under="Every site that this desk watches.">
      <FaultText fault={fault} />
      <div className="fields">
        <Field words="Find" hint="words of a name or id" value={typed} typed={setTyped} />
        <Choice
          words="In the order of"
          value={by}
          choices={SORTS}
          chosen={(chosen) => {
            setBy(chosen as SortBy);
          }}
        />
      </div>
      {value === undefined ? (
        <p className="soft">{fault === null ? "Asking the desk…" : null}</p>
      ) : (
        <>
          <p className="row">
            <span role="status">
              {shown.length === value.length
                ? `${value.length} sites`
                : `${shown.length} of ${value.length} sites`}
            </span>
            <button
              type="button"
              className="word"
              onClick={() => {
                saveFile("register.csv", new Blob([csvOf(shown)], { type: "text/csv;charset=utf-8" }));
              }}
            >
              Save these as a table (CSV)
            </button>
          </p>
          <Rows sites={shown} />
        </>
      )}
    </Page>
  );
}

function Rows({ sites }: { readonly sites: readonly SiteLine[] }) {
  const rem = Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
  const { place, from, to } = useWindow(sites.length, ROW_REM * rem);
  if (sites.length === 0) return <p>No site fits. Type less, or put a site file in at the desk.</p>;
  return (
    <div className="rows" ref={place} role="region" aria-label="Sites" tabIndex={0}>
      <div
        className="inside"
        role="table"
        aria-label="Sites"
        aria-rowcount={sites.length}
        style={{ height: `${sites.length * ROW_REM}rem` }}
      >
        {sites.slice(from, to).map((site, i) => (
          <Row key={site.id} site={site} at={from + i} />
        ))}
      </div>
    </div>
  );
}

function Row({ site, at }: { readonly site: SiteLine; readonly at: number }) {
  const { id, name } = site;
  return (
    <div className="line" role="row" aria-rowindex={at + 1} style={{ top: `${at * ROW_REM}rem` }}>
      <span role="cell">
        <Link to={`/register/${encodeURIComponent(id)}`}>{name ?? id}</Link>
      </span>
      <span role="cell">
        <Standing site={site} />
      </span>
      <span role="cell" className="small soft">
        {id}
      </span>
    </div>
  );
}

const counted = (count: number, one: string, many: string): string =>
  count === 1 ? one : `${count} ${many}`;

/** How a site stands, in words. That nothing is known is not said to be proof. */
export function Standing({ site }: { readonly site: SiteLine }) {
  const { openCases, silentPaths, activeAlarms } = site;
  if (openCases > 0) return <State state="fault" word={counted(openCases, "One open case", "open cases")} />;
  if (silentPaths > 0)
    return <State state="fault" word={counted(silentPaths, "One silent path", "silent paths")} />;
  if (activeAlarms > 0) return <State state="unsure" word={counted(activeAlarms, "One sign", "signs")} />;
  return <span className="soft">no sign</span>;
}
