import { useDeferredValue, useMemo } from "react";
import { oneOf, useView } from "../address/use-view.ts";
import { Link } from "../address/link.tsx";
import { Choice } from "../page/choice.tsx";
import { useTheme } from "../look/theme.ts";
import { counted } from "../page/counted.ts";
import { Filters } from "../page/filters.tsx";
import { inSentence } from "../page/in-sentence.ts";
import { Page } from "../page/page.tsx";
import { saveFile } from "../page/save-file.ts";
import { useNarrow } from "../page/use-narrow.ts";
import { usePrinting } from "../page/use-printing.ts";
import { FaultText } from "./fault-text.tsx";
import { changesSites } from "./keeps-desk.ts";
import type { Me, SiteLine } from "./records.ts";
import { PrintedRows } from "./register-printed.tsx";
import { HEADS, Row, rowRem } from "./register-row.tsx";
import { csvOf, filtered, ONLY, type Only, sorted, type SortBy } from "./register-rows.ts";
import { useSites } from "./use-sites.ts";
import { useWindow } from "./use-window.ts";
import { Asking } from "../page/asking.tsx";

const SORTS = [
  ["need", "What needs a person first"],
  ["name", "Name"],
  ["insulation", "Lowest insulation first"],
  ["proved", "Longest without a proof first"],
  ["id", "Id of the file"],
  ["put", "Newest file first"],
] as const satisfies readonly (readonly [SortBy, string])[];

const SHOWN = [
  ["all", "Every site"],
  ["required", "Where an alarm is required"],
  ["undecided", "Where the duty is undecided"],
  ["unserved", "Where it is required and no path meets it"],
  ["unproved", "Where it is required and not proved for a year"],
  ["case", "With an open case"],
] as const satisfies readonly (readonly [Only, string])[];

const PLAIN = { find: "", by: SORTS[0][0], show: SHOWN[0][0] };
const NONE: readonly SiteLine[] = [];

/** Every site that the desk watches. */
export default function RegisterPage({ me }: { readonly me: Me }) {
  const { value, fault } = useSites(["site", "case", "alarm"]);
  const [{ find, ...view }, show] = useView(PLAIN);
  const by = oneOf(SORTS, view.by);
  const only = oneOf(SHOWN, view.show);
  const asked = useDeferredValue(find);
  const inOrder = useMemo(() => sorted(value ?? NONE, by).filter(ONLY[only]), [value, by, only]);
  const shown = useMemo(() => filtered(inOrder, asked), [inOrder, asked]);
  return (
    <Page title="Register" under="Every site that this desk watches.">
      <FaultText fault={fault} />
      <Filters
        find={find}
        typed={show("find")}
        chosen={`Show ${wordsOf(SHOWN, only)}; in the order of ${wordsOf(SORTS, by)}`}
      >
        <Choice words="In the order of" value={by} choices={SORTS} chosen={show("by")} />
        <Choice words="Show" value={only} choices={SHOWN} chosen={show("show")} />
      </Filters>
      {value === undefined ? (
        fault === null ? (
          <Asking />
        ) : null
      ) : (
        <Found shown={shown} of={value.length} me={me} />
      )}
    </Page>
  );
}

/** How many there are, the sites, and what can be done with them: on a phone below them. */
function Found({
  shown,
  of,
  me,
}: {
  readonly shown: readonly SiteLine[];
  readonly of: number;
  readonly me: Me;
}) {
  const phone = useNarrow("fields");
  const printing = usePrinting();
  const count = (
    <span role="status">
      {shown.length === of ? counted(of, "site") : `${shown.length} of ${counted(of, "site")}`}
    </span>
  );
  const tools = (
    <>
      <button
        type="button"
        className="word"
        onClick={() => {
          saveFile("register.csv", new Blob([csvOf(shown)], { type: "text/csv;charset=utf-8" }));
        }}
      >
        Save these as a table (CSV)
      </button>
      {changesSites(me) ? (
        <>
          <Link to="/table">Change many by a table</Link>
          <Link to="/site-file">Put a site file in</Link>
        </>
      ) : null}
    </>
  );
  return (
    <>
      <p className="row">
        {count}
        {phone ? null : <span className="row controls">{tools}</span>}
      </p>
      {printing ? <PrintedRows sites={shown} /> : <Rows sites={shown} />}
      {phone ? <p className="row controls">{tools}</p> : null}
    </>
  );
}

/** What is chosen, as it goes on in a sentence. */
function wordsOf<Name extends string>(choices: readonly (readonly [Name, string])[], name: Name): string {
  return inSentence(choices.find(([one]) => one === name)![1]);
}

function Rows({ sites }: { readonly sites: readonly SiteLine[] }) {
  const high = rowRem(useTheme());
  const remPx = Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
  const { place, from, to } = useWindow(sites.length, high * remPx);
  if (sites.length === 0) return <p>No site fits. Type less, or put a site file in at the desk.</p>;
  return (
    <div className="rows" ref={place} role="region" aria-label="Sites" tabIndex={0}>
      <div
        className="inside"
        role="table"
        aria-label="Sites"
        aria-rowcount={sites.length + 1}
        style={{ height: `${(sites.length + 1) * high}rem` }}
      >
        <div className="line heads" role="row" aria-rowindex={1} style={{ height: `${high}rem` }}>
          {HEADS.map((words) => (
            <span role="columnheader" key={words}>
              {words}
            </span>
          ))}
        </div>
        {sites.slice(from, to).map((site, i) => (
          <Row key={site.id} site={site} at={from + i} rem={high} />
        ))}
      </div>
    </div>
  );
}
