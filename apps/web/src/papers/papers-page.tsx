import { useDeferredValue, useMemo, useState } from "react";
import { Link } from "../address/link.tsx";
import { FaultText } from "../desk/fault-text.tsx";
import type { Me } from "../desk/records.ts";
import { useAnswer } from "../desk/use-answer.ts";
import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import { countedSites } from "../page/counted.ts";
import { Page } from "../page/page.tsx";
import { CalendarFeed } from "./calendar-feed.tsx";
import { IssueMany } from "./issue-many.tsx";
import { PaperMaker } from "./paper-maker.tsx";
import { KIND_WORDS, type PaperLine, type Papers, SITE_KINDS, type SitePapers } from "./paper-records.ts";
import { PaperStateMark } from "./paper-state.tsx";
import { Revisions } from "./revisions.tsx";
import { SigningKeys } from "./signing-keys.tsx";
import { type Asked, sitesAsked } from "./site-rows.ts";
import { TextFile, type TextOfFile } from "./text-file.tsx";
import { VerifyFile } from "./verify-file.tsx";

/** Rows of the table on one page; a longer list is narrowed by words. */
const MOST_ROWS = 100;
const STATES = [
  ["any", "However it stands"],
  ["lacking", "Lacking"],
  ["outdated", "Outdated"],
  ["current", "Current"],
] as const;

/** What each site has, lacks or has outdated, and the papers that are about no single site. */
export default function PapersPage({ me }: { readonly me: Me }) {
  const { value, fault, again } = useAnswer<Papers>("/api/papers", ["site", "paper"]);
  const mayIssue = me.role !== "owner";
  return (
    <Page title="Papers" under="What is given to people, and whether it still says what is so.">
      <FaultText fault={fault} />
      {value === undefined ? (
        <p className="soft">{fault === null ? "Asking the desk…" : null}</p>
      ) : (
        <>
          <Sites sites={value.sites} mayIssue={mayIssue} done={again} />
          {mayIssue && me.sites === null ? <Others others={value.others} done={again} /> : null}
        </>
      )}
      <VerifyFile />
      <SigningKeys me={me} />
      <CalendarFeed />
    </Page>
  );
}

interface SitesProps {
  readonly sites: readonly SitePapers[];
  readonly mayIssue: boolean;
  readonly done: () => void;
}

function Sites({ sites, mayIssue, done }: SitesProps) {
  const [asked, setAsked] = useState<Asked>({ find: "", kind: "any", state: "any" });
  const slow = useDeferredValue(asked);
  const shown = useMemo(() => sitesAsked(sites, slow), [sites, slow]);
  return (
    <section className="flow">
      <h2>Of each site</h2>
      <div className="fields">
        <Field
          words="Find"
          hint="words of a name or id"
          value={asked.find}
          typed={(find) => {
            setAsked({ ...asked, find });
          }}
        />
        <Choice
          words="Paper"
          value={asked.kind}
          choices={[["any", "Any"], ...SITE_KINDS.map((one) => [one, KIND_WORDS[one]] as const)]}
          chosen={(kind) => {
            setAsked({ ...asked, kind: kind as Asked["kind"] });
          }}
        />
        <Choice
          words="Show"
          value={asked.state}
          choices={STATES}
          chosen={(state) => {
            setAsked({ ...asked, state: state as Asked["state"] });
          }}
        />
      </div>
      <p role="status">
        {shown.length === sites.length ? "" : `${shown.length} of `}
        {countedSites(sites.length)}
        {shown.length > MOST_ROWS ? `; the first ${MOST_ROWS} are shown` : ""}
      </p>
      {mayIssue ? <IssueMany sites={shown} done={done} /> : null}
      <div className="scroll" role="region" aria-label="Papers of each site" tabIndex={0}>
        <table className="paper-states">
          <thead>
            <tr>
              <th scope="col">Site</th>
              {SITE_KINDS.map((kind) => (
                <th key={kind} scope="col">
                  {KIND_WORDS[kind]}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {shown.slice(0, MOST_ROWS).map(({ id, name, papers }) => (
              <tr key={id}>
                <th scope="row">
                  <Link to={`/papers/${encodeURIComponent(id)}`}>{name ?? id}</Link>
                </th>
                {SITE_KINDS.map((kind) => (
                  <td key={kind}>
                    <PaperStateMark state={papers[kind]} />
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

/** The register of all sites, and setting sheets. */
function Others({ others, done }: { readonly others: readonly PaperLine[]; readonly done: () => void }) {
  const [sheet, setSheet] = useState<TextOfFile | null>(null);
  return (
    <>
      <section className="flow">
        <h2>Register of the fleet</h2>
        {others.some(({ kind }) => kind === "fleet-register")
          ? others
              .filter(({ kind }) => kind === "fleet-register")
              .map((paper) => <Revisions key={paper.number} paper={paper} />)
          : null}
        <PaperMaker
          asked={{ kind: "fleet-register" }}
          formats={["pdf", "html", "csv", "xlsx"]}
          mayIssue
          looks="when-asked"
          done={done}
        />
      </section>
      <section className="flow">
        <h2>Setting sheets</h2>
        {others
          .filter(({ kind }) => kind === "setting-sheet")
          .map((paper) => (
            <div key={paper.number} className="flow">
              <h3>{paper.number.slice("setting-sheet ".length)}</h3>
              <Revisions paper={paper} />
            </div>
          ))}
        <PaperMaker
          asked={sheet === null ? null : { kind: "setting-sheet", text: sheet.text }}
          formats={["pdf", "html"]}
          mayIssue
          done={done}
        >
          <TextFile
            words="Setting sheet"
            hint="its file (earthbell schema setting-sheet)"
            file={sheet}
            chosen={setSheet}
          />
        </PaperMaker>
      </section>
    </>
  );
}
