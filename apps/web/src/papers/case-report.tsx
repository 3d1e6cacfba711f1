import type { Case } from "@earthbell/model";
import { useState } from "react";
import { Link } from "../address/link.tsx";
import type { Me } from "../desk/records.ts";
import { PaperMaker } from "./paper-maker.tsx";

const PAGES = ["pdf", "html"] as const;

interface CaseReportProps {
  readonly one: Case;
  readonly me: Me;
  readonly done: () => void;
}

/** The report of a case from what is on record of it, looked at and issued beside the case. */
export function CaseReport({ one, me, done }: CaseReportProps) {
  const [open, setOpen] = useState(false);
  return (
    <section className="flow controls">
      <h2>Report</h2>
      <p>
        Times, people told, readings of every visit, cause, insulation before and after, sign-off, as they are
        on record now. Issued reports are among the{" "}
        <Link to={`/papers/${encodeURIComponent(one.site)}`}>papers of the site</Link>.
      </p>
      <details
        onToggle={(event) => {
          setOpen(event.currentTarget.open);
        }}
      >
        <summary>
          {one.closed === null ? "Look at the report as it stands" : "Look at the report, and issue it"}
        </summary>
        {open ? (
          <PaperMaker
            asked={{ kind: "fault-report", site: one.site, case: one.id }}
            formats={PAGES}
            mayIssue={me.role !== "owner"}
            looks="at-once"
            done={done}
          />
        ) : null}
      </details>
    </section>
  );
}
