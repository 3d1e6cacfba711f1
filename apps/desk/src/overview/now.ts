import { type RankedArray, type SetAside, setAsideWords } from "@earthbell/engine";
import type { Alarm, Drill } from "@earthbell/model";
import type { SiteStanding } from "../judge/site-standing.ts";
import type { Asking } from "../store/index.ts";
import type { Seen } from "./bound-to.ts";
import { siteNamesOf } from "./site-names.ts";
import { type SiteGroup, standingSites } from "./standing-sites.ts";
import { type CaseBrief, waitingFaults } from "./waiting-cases.ts";
import { waitingDrills } from "./waiting-drills.ts";
import { type VisitBrief, waitingVisits } from "./waiting-visits.ts";

/** Kinds of what needs a person, of which there may be more than are named. */
export const NOW_KINDS = [
  "unanswered",
  "present",
  "silent",
  "missed",
  "unsigned",
  "drills",
  "visits",
  "upkeep",
] as const;

/** What needs a person at the desk, the foremost of each kind; and what stands behind the others' silence. */
export interface Now {
  readonly cases: readonly CaseBrief[];
  readonly alarms: readonly Alarm[];
  readonly drills: readonly Drill[];
  /** Arrays that their insulation histories say somebody has to go to. */
  readonly visits: readonly VisitBrief[];
  /** How many of each kind there are beyond those. */
  readonly more: Readonly<Record<(typeof NOW_KINDS)[number], number>>;
  readonly unserved: SiteGroup;
  readonly unproved: SiteGroup;
  /** Names of the sites that are spoken of, by their ids. */
  readonly names: Readonly<Record<string, string>>;
  readonly watched: number;
  readonly quiet: number;
  readonly unjudged: number;
  /** Every insulation history has been read since the desk was started. */
  readonly historiesRead: boolean;
  /** Overrides of rule values that are not gone by until somebody looks at them again. */
  readonly setAside: readonly { readonly pack: string; readonly field: string; readonly text: string }[];
  readonly lastPassed: { readonly site: string; readonly path: string; readonly startedAt: number } | null;
}

interface Sources {
  readonly db: Asking;
  readonly clock: { now(): number };
  readonly standing: (site: string) => SiteStanding | null;
  readonly rules: { setAside(): readonly SetAside[] };
  readonly drift: { readonly due: ReadonlyMap<string, RankedArray>; readonly isRead: boolean };
}

/** So many of each kind are named: more than a person deals with in a day. */
const MOST = 50;

async function readNow({ db, clock, standing, drift, rules }: Sources, seen: Seen): Promise<Now> {
  const { due, isRead: historiesRead } = drift;
  const faults = await waitingFaults(db, seen, { most: MOST, due });
  const { unanswered, present, unsigned, silent, missed, upkeep } = faults;
  const asked = { now: clock.now(), most: MOST, told: faults.missedPaths };
  const drills = await waitingDrills(db, seen, asked);
  const { withFault, sinking } = faults;
  const visits = await waitingVisits(db, seen, due, { most: MOST, withFault, sinking });
  const { unserved, unproved, ...counts } = await standingSites(db, seen, standing, faults.signed);
  const cases = [...unanswered.first, ...present.first, ...unsigned.first];
  const alarms = [...faults.ofCases, ...silent.first, ...missed.first, ...upkeep.first];
  const spokenOf = [...cases, ...alarms, ...drills.first, ...visits.first].map(({ site }) => site);
  const more = {
    ...{ unanswered: unanswered.more, present: present.more, unsigned: unsigned.more },
    ...{ silent: silent.more, missed: missed.more, upkeep: upkeep.more, drills: drills.more },
    visits: visits.more,
  };
  const names = await siteNamesOf(db).namesOf([...spokenOf, ...unserved.first, ...unproved.first]);
  const named = {
    cases,
    alarms,
    drills: drills.first,
    visits: visits.first,
    more,
    unserved,
    unproved,
    names,
  };
  return {
    ...named,
    ...counts,
    setAside: seen === null ? asideBriefs(rules.setAside()) : [],
    historiesRead,
    lastPassed: drills.lastPassed,
  };
}

/** Told to those who see the whole desk: a rule value is its, and no site's. */
function asideBriefs(aside: readonly SetAside[]): Now["setAside"] {
  return aside
    .slice(0, MOST)
    .map((one) => ({ pack: one.override.pack, field: one.override.field, text: setAsideWords(one) }));
}

/** What time alone changes, a drill that runs out or a judgement, is seen after this long [ms]. */
const HOLDS_MS = 60_000;
const NOTHING_YET = -1;

/**
 * Answers what needs a person. However many look at the whole desk, it is read once for each entry of the journal: nothing
 * that is told here changes without one.
 */
export function nowReader(sources: Sources): (seen: Seen) => Promise<Now> {
  const { db, clock } = sources;
  let held: { readonly entry: number; readonly at: number; readonly now: Promise<Now> } | null = null;
  return async (seen) => {
    if (seen !== null) return readNow(sources, seen);
    const mark = await db.selectFrom("mark").select("value").where("name", "=", "journal").executeTakeFirst();
    const entry = mark?.value ?? NOTHING_YET;
    if (held?.entry === entry && clock.now() - held.at < HOLDS_MS) return held.now;
    const mine = { entry, at: clock.now(), now: readNow(sources, null) };
    held = mine;
    mine.now.catch(() => {
      if (held === mine) held = null;
    });
    return mine.now;
  };
}
