import type { Site } from "@earthbell/engine";
import { lazy, Suspense } from "react";
import { Link } from "../address/link.tsx";
import { Asking } from "../page/asking.tsx";
import { Page } from "../page/page.tsx";
import { nameOfView, SiteTabs, SiteView } from "../sites/site-views.tsx";
import { BeginVisitThere } from "./begin-visit-there.tsx";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import { PathDrills } from "./path-drills.tsx";
import { casesOfSitePath, drillsOfSitePath } from "./questions.ts";
import type { Case, Drill, Me } from "./records.ts";
import { Standing } from "./register-row.tsx";
import { useSiteFile } from "./site-file.ts";
import { useAnswer } from "./use-answer.ts";
import { useSite } from "./use-sites.ts";
import { useStep } from "./use-step.ts";

/** Its drawings are fetched apart: what is to be done there stands above them. */
const InsulationHistory = lazy(async () => ({
  default: (await import("./insulation-history.tsx")).InsulationHistory,
}));

const OWN_VIEWS = [{ id: "watch", name: "Watch" }] as const;

interface DeskSiteProps {
  readonly id: string;
  /** "watch", or a view of what the file alone says. */
  readonly view: string;
  readonly me: Me;
}

/** One site as the desk watches it: how it stands, its insulation, its drills; and what its file says. */
export default function DeskSitePage({ id, view, me }: DeskSiteProps) {
  const { line, fault: lineFault } = useSite(id, ["site", "case", "alarm"]);
  const { site, fault } = useSiteFile(id);
  const name = line?.name ?? id;
  const shown = view === "watch" ? view : nameOfView(view);
  if (line === undefined && lineFault === null)
    return (
      <Page title={id}>
        <Asking />
      </Page>
    );
  return (
    <Page
      title={name}
      under={
        line === undefined ? undefined : `File ${id}, revision ${line.revision}, put in by ${line.putBy}`
      }
    >
      {line === undefined ? null : (
        <p>
          <Standing site={line} />
        </p>
      )}
      <FaultText fault={fault ?? lineFault} />
      <SiteTabs at={`/register/${encodeURIComponent(id)}`} shown={shown} own={OWN_VIEWS} />
      {shown === "watch" ? <Watched id={id} site={site} unread={fault !== null} me={me} /> : null}
      {shown !== "watch" && site !== undefined ? <SiteView site={site} view={view} /> : null}
    </Page>
  );
}

/** What the desk heard of a site and did for it. */
function Watched({
  id,
  site,
  unread,
  me,
}: {
  readonly id: string;
  readonly site: Site | undefined;
  /** The file cannot be read, so that nothing waits for it. */
  readonly unread: boolean;
  readonly me: Me;
}) {
  const cases = useAnswer<readonly Case[]>(casesOfSitePath(id), ["case"]);
  const drills = useAnswer<readonly Drill[]>(drillsOfSitePath(id), ["drill"]);
  const unanswered = [cases, drills].some(({ value, fault }) => value === undefined && fault === null);
  const waits = unanswered || (site === undefined && !unread);
  if (waits) return <Asking />;
  return (
    <>
      <FaultText fault={cases.fault} />
      <Cases cases={cases.value ?? []} />
      {site === undefined ? null : (
        <>
          <section className="flow">
            <h2>Paths and their drills</h2>
            <FaultText fault={drills.fault} />
            <Drills site={site} me={me} drills={drills.value ?? []} done={drills.again} />
          </section>
          <Suspense fallback={<Asking />}>
            {site.arrays.map((array) => (
              <InsulationHistory key={array.id} site={id} array={array.id} />
            ))}
          </Suspense>
        </>
      )}
      <TheFile id={id} me={me} />
    </>
  );
}

function Cases({ cases }: { readonly cases: readonly Case[] }) {
  if (cases.length === 0) return null;
  return (
    <section className="flow">
      <h2>Cases</h2>
      <ul className="plain index">
        {cases.map(({ id, array, openedAt, closed }) => (
          <li key={id}>
            <Link to={`/cases/${encodeURIComponent(id)}`}>
              Case {id}, array {array}
            </Link>{" "}
            <span className="soft">
              opened {instantWords(openedAt)}, {closed === null ? "open" : `closed by ${closed.by}`}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

interface DrillsProps {
  readonly site: Site;
  readonly me: Me;
  readonly drills: readonly Drill[];
  readonly done: () => void;
}

function Drills({ site, me, drills, done }: DrillsProps) {
  return (
    <>
      {site.paths.map((one) => (
        <PathDrills
          key={one.id}
          path={one}
          zone={site.place.timezone ?? "UTC"}
          site={site.id}
          filedOn={lastDrillOf(site, one.id)}
          drills={drills.filter((drill) => drill.path === one.id)}
          may={me.role !== "owner"}
          done={done}
        />
      ))}
    </>
  );
}

function lastDrillOf({ proofs }: Site, path: string): string | null {
  const days = proofs.filter((proof) => proof.path === path && proof.kind === "drill").map(({ on }) => on);
  return days.toSorted().at(-1) ?? null;
}

/** The file itself, taken onto this device for its own pages and for a visit. */
function TheFile({ id, me }: { readonly id: string; readonly me: Me }) {
  const { busy, fault, take } = useStep();
  return (
    <section className="flow">
      <h2>Its file</h2>
      <p>Take it onto this device, and its pages and a visit there work without signal.</p>
      <p className="row">
        <button
          type="button"
          disabled={busy}
          onClick={() => {
            const now = new Date().toISOString();
            take(async () => {
              const { openFileHere } = await import("./take-site.ts");
              await openFileHere(id, now);
              return null;
            });
          }}
        >
          Open its file here
        </button>
        {me.role === "owner" ? null : (
          <>
            <BeginVisitThere site={id} />
            <Link to={`/register/${encodeURIComponent(id)}/file`}>Look at its text, or change it</Link>
          </>
        )}
        <Link to={`/papers/${encodeURIComponent(id)}`}>Its papers</Link>
      </p>
      <FaultText fault={fault} />
    </section>
  );
}
