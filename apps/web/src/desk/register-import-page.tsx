import { useState } from "react";
import { Link } from "../address/link.tsx";
import { InputFaults } from "../page/input-faults.tsx";
import { Page } from "../page/page.tsx";
import { TextFile, type TextOfFile } from "../papers/text-file.tsx";
import { tellDesk } from "./ask-desk.ts";
import { FaultText } from "./fault-text.tsx";
import { type Stepping, useStep } from "./use-step.ts";

interface Planned {
  readonly sites: readonly {
    readonly site: string;
    readonly revision: number;
    readonly changes: readonly {
      readonly line: number;
      readonly what: string;
      readonly before: string | null;
      readonly now: string;
    }[];
    readonly rewritten: boolean;
  }[];
  readonly unchanged: number;
}

/** Sites of a plan that are listed; the rest are counted. */
const MOST_SITES = 200;
const HINT =
  "CSV with the column site and any of name, owner_told, or path, proof (drill or test-resistor), on, by, acknowledged_after";

const csv = ({ text }: TextOfFile): Blob => new Blob([text], { type: "text/csv" });

/** Site files of many sites changed by one table: what would change first, then the change. */
export default function RegisterImportPage() {
  const [table, setTable] = useState<TextOfFile | null>(null);
  const [plan, setPlan] = useState<Planned | null>(null);
  const looking = useStep();
  const applying = useStep();
  const look = (file: TextOfFile | null): void => {
    setTable(file);
    setPlan(null);
    if (file !== null)
      looking.take(async () => {
        setPlan(await tellDesk<Planned>("/api/register/preview", csv(file)));
        return null;
      });
  };
  const apply = (): void => {
    if (table === null) return;
    applying.take(async () => {
      const { sites } = await tellDesk<Planned>("/api/register/apply", csv(table));
      setPlan(null);
      setTable(null);
      return `${sites.length} site files were changed, each as its next revision.`;
    });
  };
  return (
    <Page
      title="Changes by a table"
      under="Names, days on which owners were told, and proofs, of many sites at once. Empty cells change nothing."
    >
      <p>
        <Link to="/register">The register</Link>, which hands its table out.
      </p>
      <TextFile words="Table" hint={HINT} accept=".csv,text/csv" file={table} chosen={look} />
      <Trouble step={looking} file={table?.name ?? "The table"} />
      {looking.busy ? <p className="soft">Comparing it with the site files…</p> : null}
      {plan === null ? null : <Plan plan={plan} busy={applying.busy} apply={apply} />}
      <Trouble step={applying} file={table?.name ?? "The table"} />
      {applying.said === null ? null : <p>{applying.said}</p>}
    </Page>
  );
}

function Trouble({ step: { fault }, file }: { readonly step: Stepping; readonly file: string }) {
  if (fault !== null && fault.faults.length > 0) return <InputFaults file={file} faults={fault.faults} />;
  return <FaultText fault={fault} />;
}

interface PlanProps {
  readonly plan: Planned;
  readonly busy: boolean;
  readonly apply: () => void;
}

function Plan({ plan: { sites, unchanged }, busy, apply }: PlanProps) {
  const rewritten = sites.filter((one) => one.rewritten);
  return (
    <section className="flow">
      <h2>What would change</h2>
      <p role="status">
        {sites.length === 0 ? "Nothing." : `${sites.length} site files.`}{" "}
        {unchanged === 0 ? "" : `${unchanged} rows say what is so already.`}
      </p>
      {rewritten.length === 0 ? null : (
        <p>
          {rewritten.length === 1 ? "One file is" : `${rewritten.length} files are`} written anew for it, and
          their remarks are lost:{" "}
          {rewritten
            .slice(0, 10)
            .map(({ site }) => site)
            .join(", ")}
          .
        </p>
      )}
      {sites.length === 0 ? null : (
        <>
          <div className="scroll" role="region" aria-label="What would change" tabIndex={0}>
            <table>
              <thead>
                <tr>
                  {["Line", "Site", "What", "Before", "Then"].map((head) => (
                    <th key={head} scope="col">
                      {head}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {sites.slice(0, MOST_SITES).flatMap(({ site, changes }) =>
                  changes.map(({ line, what, before, now }) => (
                    <tr key={`${line} ${what}`}>
                      <td className="figure">{line}</td>
                      <th scope="row">{site}</th>
                      <td>{what}</td>
                      <td>{before ?? "—"}</td>
                      <td>{now}</td>
                    </tr>
                  )),
                )}
              </tbody>
            </table>
          </div>
          {sites.length > MOST_SITES ? <p>and {sites.length - MOST_SITES} more sites.</p> : null}
          <p>
            <button type="button" className="main" disabled={busy} onClick={apply}>
              {busy ? "Changing…" : `Change ${sites.length} site files`}
            </button>
          </p>
        </>
      )}
    </section>
  );
}
