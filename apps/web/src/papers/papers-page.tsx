import { useMemo } from "react";
import { Link } from "../address/link.tsx";
import { oneOf, useView } from "../address/use-view.ts";
import { FaultText } from "../desk/fault-text.tsx";
import type { Me } from "../desk/records.ts";
import { Longer } from "../desk/longer.tsx";
import { useAnswer } from "../desk/use-answer.ts";
import { useLonger } from "../desk/use-longer.ts";
import { Choice } from "../page/choice.tsx";
import { counted } from "../page/counted.ts";
import { Filters } from "../page/filters.tsx";
import { inSentence } from "../page/in-sentence.ts";
import { Page } from "../page/page.tsx";
import { CalendarFeed } from "./calendar-feed.tsx";
import { IssueMany } from "./issue-many.tsx";
import { PaperMaker } from "./paper-maker.tsx";
import {
  KIND_WORDS,
  type PaperLine,
  type PaperStates,
  SITE_KINDS,
  type SitePapers,
} from "./paper-records.ts";
import { PaperStateMark } from "./paper-state.tsx";
import { Revisions } from "./revisions.tsx";
import { SigningKeys } from "./signing-keys.tsx";
import { type Asked, statesPath } from "./site-rows.ts";
import { useSettled } from "../page/use-settled.ts";
import { VerifyFile } from "./verify-file.tsx";
import { Asking } from "../page/asking.tsx";

const STATES = [
  ["any", "However it stands"],
  ["lacking", "Lacking"],
  ["outdated", "Outdated"],
  ["current", "Current"],
] as const;
const PAPERS = [["any", "Any"], ...SITE_KINDS.map((one) => [one, KIND_WORDS[one]] as const)] as const;
const PLAIN = { find: "", paper: "any", stands: STATES[0][0] };

/** What each site has, lacks or has outdated, and the papers that are about no single site. */
export default function PapersPage({ me }: { readonly me: Me }) {
  const mayIssue = me.role !== "owner";
  return (
    <Page title="Papers" under="What is given to people, and whether it still says what is so.">
      <Sites mayIssue={mayIssue} />
      {mayIssue && me.sites === null ? <Others /> : null}
      <VerifyFile />
      <SigningKeys me={me} />
      <CalendarFeed />
    </Page>
  );
}

function Sites({ mayIssue }: { readonly mayIssue: boolean }) {
  const [{ find, paper, stands }, show] = useView(PLAIN);
  const asked = useMemo(
    (): Asked => ({ find, kind: oneOf(PAPERS, paper), state: oneOf(STATES, stands) }),
    [find, paper, stands],
  );
  const settled = useSettled(asked);
  const { value, fault, again, longer } = useLonger<PaperStates>(
    (rows) => statesPath(settled, rows),
    ["site", "paper"],
  );
  return (
    <section className="flow">
      <h2>Of each site</h2>
      <Filters find={asked.find} typed={show("find")} chosen={chosenWords(asked)}>
        <Choice words="Paper" value={asked.kind} choices={PAPERS} chosen={show("paper")} />
        <Choice words="Show" value={asked.state} choices={STATES} chosen={show("stands")} />
      </Filters>
      <FaultText fault={fault} />
      {value === undefined ? (
        fault === null ? (
          <Asking />
        ) : null
      ) : (
        <>
          <p role="status">
            {value.fits === value.count ? "" : `${value.fits} of `}
            {counted(value.count, "site")}
          </p>
          {mayIssue ? <IssueMany asked={settled} toMake={value.toMake} done={again} /> : null}
          {value.sites.length === 0 ? <p>No site fits.</p> : <StateTable sites={value.sites} />}
          <Longer
            more={value.fits - value.sites.length}
            what="sites"
            longer={longer}
            otherwise="Narrow them by words of a name or id."
          />
        </>
      )}
    </section>
  );
}

function chosenWords({ kind, state }: Asked): string {
  const paper = kind === "any" ? "any paper" : inSentence(KIND_WORDS[kind]);
  return `Show ${paper}, ${inSentence(STATES.find(([one]) => one === state)![1])}`;
}

function StateTable({ sites }: { readonly sites: readonly SitePapers[] }) {
  return (
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
          {sites.map(({ id, name, papers }) => (
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
  );
}

/** The register of all sites, and setting sheets. */
function Others() {
  const { value, fault, again: done } = useAnswer<readonly PaperLine[]>("/api/papers/others", ["paper"]);
  const others = value ?? [];
  return (
    <>
      <FaultText fault={fault} />
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
              <h3>
                <SheetLink sheet={paper.number.slice("setting-sheet ".length)} />
              </h3>
              <Revisions paper={paper} />
            </div>
          ))}
        <p>
          <Link to="/setting-sheets/new">Write a setting sheet</Link>, or fill one in from a file there.
        </p>
      </section>
    </>
  );
}

/** A sheet by its short name, to be revised. */
function SheetLink({ sheet }: { readonly sheet: string }) {
  return <Link to={`/setting-sheets/${encodeURIComponent(sheet)}`}>{sheet}: revise</Link>;
}
