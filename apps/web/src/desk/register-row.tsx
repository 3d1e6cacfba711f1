import type { ReactNode } from "react";
import { formatQuantity, type Ohms } from "@earthbell/engine";
import { newestProofOn } from "@earthbell/model";
import { Link } from "../address/link.tsx";
import type { Theme } from "../look/theme.ts";
import { State, type StateName } from "../page/state.tsx";
import type { SiteLine, SiteStanding } from "./records.ts";

/** Height of a row, the heads included: three lines of a phone, in letters for the sun as well. */
export const rowRem = (theme: Theme): number => (theme === "roof" ? 4.5 : 3.25);
export const HEADS = ["Site", "Now", "Alarm", "Best path", "Proved", "Insulation"];

/** A site in a line of that height, so many rows below the heads. */
export function Row({
  site,
  at,
  rem,
}: {
  readonly site: SiteLine;
  readonly at: number;
  readonly rem: number;
}) {
  const { standing } = site;
  return (
    <div
      className="line"
      role="row"
      aria-rowindex={at + 2}
      style={{ top: `${(at + 1) * rem}rem`, height: `${rem}rem` }}
    >
      <span role="cell">
        <Link to={`/register/${encodeURIComponent(site.id)}`}>{nameOf(site)}</Link>
      </span>
      <span role="cell">
        <Standing site={site} />
      </span>
      {standing === null ? (
        <span role="cell" className="soft unjudged">
          being judged
        </span>
      ) : (
        judged(site, standing).map(([name, shown]) => (
          <span role="cell" key={name}>
            {shown}
          </span>
        ))
      )}
      <span role="cell">
        <Insulation site={site} />
      </span>
    </div>
  );
}

/** A site by its name, or by its id where it has none. */
export const nameOf = ({ name, id }: SiteLine): string => name ?? id;

/** What is known once a site is judged: its duty, its best path, and when that was proved. */
export function judged(
  site: SiteLine,
  { duty, path }: SiteStanding,
): readonly (readonly [name: string, shown: ReactNode])[] {
  return [
    ["duty", <State key="duty" {...DUTY[duty]} />],
    ["path", path === null ? <NoPath key="path" duty={duty} /> : <State key="path" {...PATH[path]} />],
    ["proved", newestProofOn(site) ?? <span className="soft">never</span>],
  ];
}

type Marked = { readonly state: StateName; readonly word: string };
const DUTY: Readonly<Record<SiteStanding["duty"], Marked>> = {
  required: { state: "must", word: "required" },
  undecided: { state: "unsure", word: "undecided" },
  "not-required": { state: "none", word: "not required" },
};
const PATH: Readonly<Record<NonNullable<SiteStanding["path"]>, Marked>> = {
  meets: { state: "proven", word: "meets" },
  unproven: { state: "unsure", word: "unproven" },
  "cannot-tell": { state: "unsure", word: "cannot tell" },
  "falls-short": { state: "fault", word: "falls short" },
};

function NoPath({ duty }: { readonly duty: SiteStanding["duty"] }) {
  return <State state={duty === "not-required" ? "none" : "fault"} word="none" />;
}

/** Marked where it lies below the threshold: then there is, or was, a fault. */
export function Insulation({ site: { insulation, standing } }: { readonly site: SiteLine }) {
  if (insulation === null) return <span className="soft">not heard</span>;
  const words = formatQuantity(insulation.ohms as Ohms, "resistance", { significant: 3 });
  const threshold = standing?.thresholdOhms ?? null;
  return threshold !== null && insulation.ohms < threshold ? <State state="fault" word={words} /> : words;
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
  return <span className="soft">no sign of a fault</span>;
}
