import { useState } from "react";
import { Link } from "../address/link.tsx";
import { FaultText } from "../desk/fault-text.tsx";
import type { Me } from "../desk/records.ts";
import { useAnswer } from "../desk/use-answer.ts";
import { Choice } from "../page/choice.tsx";
import { Page } from "../page/page.tsx";
import { CheckWords } from "./file-link.tsx";
import { PaperMaker } from "./paper-maker.tsx";
import { type Kind, KIND_WORDS, type PaperLine, SITE_KINDS } from "./paper-records.ts";
import { PaperStateMark } from "./paper-state.tsx";
import { NO_REPORT, reportAsked, type ReportChosen, ReportFields } from "./report-fields.tsx";
import { Revisions } from "./revisions.tsx";

const KINDS = [...SITE_KINDS, "fault-report"] as const;
const PAGES = ["pdf", "html"] as const;

/** The papers of one site: how each stands, its revisions, and a form to make the next one. */
export default function SitePapersPage({ id, me }: { readonly id: string; readonly me: Me }) {
  const path = `/api/sites/${encodeURIComponent(id)}/papers`;
  const { value, fault, again } = useAnswer<readonly PaperLine[]>(path, ["site", "paper"]);
  const mayIssue = me.role !== "owner";
  return (
    <Page
      title={`Papers of ${id}`}
      under={<Link to={`/register/${encodeURIComponent(id)}`}>The site in the register</Link>}
    >
      <FaultText fault={fault} />
      {value === undefined ? null : (
        <>
          <section className="flow">
            <h2>What it has</h2>
            {shownLines(value).map((paper) => (
              <div key={paper.number} className="flow">
                <h3>
                  {KIND_WORDS[paper.kind]}
                  {paper.language === "es" ? ", in Spanish" : ""}
                  {paper.kind === "fault-report"
                    ? ` ${paper.number.slice(paper.number.indexOf("/") + 1)}`
                    : ""}{" "}
                  {paper.state === null ? null : <PaperStateMark state={paper.state} />}
                </h3>
                <Revisions paper={paper} />
              </div>
            ))}
            {value.some(({ revisions }) => revisions.length > 0) ? <CheckWords /> : null}
          </section>
          <section className="flow controls">
            <h2>Make a paper</h2>
            <MakePaper site={id} papers={value} mayIssue={mayIssue} done={again} />
          </section>
        </>
      )}
    </Page>
  );
}

/** A paper in another language stands in the list once it was issued. */
function shownLines(papers: readonly PaperLine[]): readonly PaperLine[] {
  const order = (kind: Kind): number => KINDS.findIndex((one) => one === kind);
  return papers
    .filter(({ language, revisions }) => language === "en" || revisions.length > 0)
    .toSorted((a, b) => order(a.kind) - order(b.kind));
}

interface MakePaperProps {
  readonly site: string;
  readonly papers: readonly PaperLine[];
  readonly mayIssue: boolean;
  readonly done: () => void;
}

type SiteOrReport = (typeof KINDS)[number];

/** What a person chose beside the kind of the paper. */
interface Chosen {
  readonly language: string;
  readonly report: ReportChosen;
  /** A commissioning record without results, although the issue before had some. */
  readonly blank: boolean;
}

const NOTHING: Chosen = { language: "en", report: NO_REPORT, blank: false };

/** What goes to the desk beside kind and site; null while something is missing. */
function extraOf(kind: SiteOrReport, chosen: Chosen, hadResults: boolean): object | null {
  const { language, report, blank } = chosen;
  switch (kind) {
    case "fault-report":
      return reportAsked(report);
    case "commissioning-record":
      return hadResults && !blank ? null : { blank };
    case "owner-notice":
      return { language };
    case "design-record":
    case "visit-sheet":
      return {};
  }
}

function MakePaper({ site, papers, mayIssue, done }: MakePaperProps) {
  const [kind, setKind] = useState<SiteOrReport>("owner-notice");
  const [chosen, setChosen] = useState(NOTHING);
  const hadResults = papers.some((one) => one.kind === kind && one.hasResults);
  const extra = extraOf(kind, chosen, hadResults);
  return (
    <PaperMaker
      asked={extra === null ? null : { kind, site, ...extra }}
      formats={PAGES}
      mayIssue={mayIssue}
      done={done}
    >
      <Choice
        words="Paper"
        value={kind}
        choices={KINDS.map((one) => [one, KIND_WORDS[one]] as const)}
        chosen={(one) => {
          setKind(one as SiteOrReport);
        }}
      />
      <Fields
        site={site}
        kind={kind}
        chosen={chosen}
        hadResults={hadResults}
        choose={(change) => {
          setChosen((now) => ({ ...now, ...change }));
        }}
      />
    </PaperMaker>
  );
}

interface FieldsProps {
  readonly site: string;
  readonly kind: SiteOrReport;
  readonly chosen: Chosen;
  readonly hadResults: boolean;
  readonly choose: (change: Partial<Chosen>) => void;
}

/** The fields of a kind of paper. */
function Fields({ site, kind, chosen, hadResults, choose }: FieldsProps) {
  switch (kind) {
    case "owner-notice":
      return (
        <Choice
          words="In"
          value={chosen.language}
          choices={[
            ["en", "English"],
            ["es", "Spanish"],
          ]}
          chosen={(language) => {
            choose({ language });
          }}
        />
      );
    case "fault-report":
      return (
        <ReportFields
          site={site}
          chosen={chosen.report}
          choose={(change) => {
            choose({ report: { ...chosen.report, ...change } });
          }}
        />
      );
    case "commissioning-record":
      return (
        <>
          <p>
            <Link to={`/papers/${encodeURIComponent(site)}/commissioning`}>Enter what was measured</Link>,
            step by step or from a file. Made here, the paper is filled in by hand.
          </p>
          {hadResults ? (
            <label className="tick">
              <input
                type="checkbox"
                checked={chosen.blank}
                onChange={(event) => {
                  choose({ blank: event.currentTarget.checked });
                }}
              />
              The issue before has results. Make this one without any, to be filled in by hand.
            </label>
          ) : null}
        </>
      );
    case "design-record":
    case "visit-sheet":
      return null;
  }
}
