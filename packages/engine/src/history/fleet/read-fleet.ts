import { belowLatelyWords, type Headline, headlineOf } from "../headline.ts";
import type { HistoryFinding } from "../read-history.ts";
import type { Trouble } from "../weigh.ts";
import { type DueVisit, dueVisit } from "./due-visit.ts";
import { adjustedForMany, groupTail, wilsonInterval } from "./proportions.ts";

/** What arrays may have in common. */
export const FLEET_TRAITS = ["site", "module", "connector", "installer", "batch", "place"] as const;
export type FleetTrait = (typeof FLEET_TRAITS)[number];

export interface FleetArray {
  readonly finding: HistoryFinding;
  readonly traits: Readonly<Partial<Record<FleetTrait, string>>>;
  /** How much hangs on this array against another; 1 when left out. */
  readonly consequence?: number;
}

export interface FleetGroup {
  readonly trait: FleetTrait;
  readonly name: string;
  readonly arrays: number;
  readonly drifting: number;
  /** Share that drifts, drawn towards the fleet's as far as the group is small; and Wilson's 90 % interval. */
  readonly share: number;
  readonly low: number;
  readonly high: number;
  /** Against the rest of the fleet, one-sided; and adjusted for all the groups that were compared. */
  readonly p: number;
  readonly adjustedP: number;
  readonly standsOut: boolean;
}

export interface RankedArray {
  readonly array: string;
  readonly site: string | null;
  readonly verdict: Trouble;
  /** What is to be said first: that it is below, then what its history shows. */
  readonly headline: Headline;
  /** Days to the threshold, dry or wet, whichever comes first; null: not within five years, or not known. */
  readonly days: number | null;
  /** Chance to reach it within a year, 1 where it was reached already; null where no threshold is known. */
  readonly withinYear: number | null;
  readonly consequence: number;
  /** What the order goes by: chance within a year times consequence. */
  readonly weight: number;
  readonly reason: string;
  /** Why somebody has to go there, and by when; null where it can wait. */
  readonly visit: DueVisit | null;
}

export interface FleetFinding {
  readonly format: "earthbell.fleet-history/1";
  readonly arrays: number;
  /** Arrays with enough data to be called anything. */
  readonly judged: number;
  readonly drifting: number;
  readonly groups: readonly FleetGroup[];
  readonly ranking: readonly RankedArray[];
  readonly note: string;
}

const DRIFTING: readonly Trouble[] = ["moisture-driven", "hard", "progressive", "intermittent"];
/** Arrays' worth of the whole fleet that a group's share is drawn to [design choice]. */
const PULL = 4;
/** Groups below this size are listed and never called. */
const LEAST_GROUP = 3;
const CALL_AT = 0.1;

/** Which modules, connectors, installers, batches and places drift, and which array to go to first. */
export function readFleet(arrays: readonly FleetArray[]): FleetFinding {
  const steps = fleetSteps(arrays);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

/** Groups or arrays that are worked out in one step: some thousandths of a second. */
const A_STEP = 500;

/** `readFleet` in short steps, for whoever has to see to something else between them. */
export function* fleetSteps(arrays: readonly FleetArray[]): Generator<undefined, FleetFinding> {
  const judged = arrays.filter(({ finding }) => finding.verdict !== "too-little-data");
  const drifting = judged.filter(isDrifting).length;
  const groups: Omit<FleetGroup, "adjustedP" | "standsOut">[] = [];
  for (const trait of FLEET_TRAITS) {
    const compared = groupsOf(judged, trait);
    for (const group of compared) {
      groups.push(figuresOf(group, judged.length, drifting));
      if (groups.length % A_STEP === 0) yield undefined;
    }
    yield undefined;
  }
  const adjusted = adjustedForMany(groups.map(({ p }) => p));
  yield undefined;
  const ranking: RankedArray[] = [];
  for (const array of arrays) {
    ranking.push(rankedOf(array));
    if (ranking.length % A_STEP === 0) yield undefined;
  }
  ranking.sort(byWeight);
  yield undefined;
  return {
    format: "earthbell.fleet-history/1",
    arrays: arrays.length,
    judged: judged.length,
    drifting,
    groups: groups
      .map((group, i) => ({
        ...group,
        adjustedP: adjusted[i]!,
        standsOut: group.arrays >= LEAST_GROUP && adjusted[i]! < CALL_AT,
      }))
      .sort((a, b) => a.adjustedP - b.adjustedP || b.share - a.share),
    ranking,
    note: `${groups.length} groups were compared; p is adjusted for that by Benjamini and Hochberg, and one group in ten called may be called by chance. Arrays share traits, so a group may stand out for another's sake.`,
  };
}

/** The order of the ranking: chance within a year times consequence, then how far it is. */
export function byWeight(one: RankedArray, other: RankedArray): number {
  return other.weight - one.weight || rankOf(one) - rankOf(other) || (one.days ?? 1e9) - (other.days ?? 1e9);
}

/** Of arrays that weigh alike, those below the threshold on their newest morning come first. */
function rankOf({ headline: { reached } }: RankedArray): number {
  return reached === "newest" ? 0 : reached === "lately" ? 1 : 2;
}

interface Compared {
  readonly trait: FleetTrait;
  readonly name: string;
  readonly members: readonly FleetArray[];
}

function figuresOf(
  { trait, name, members }: Compared,
  judged: number,
  drifting: number,
): Omit<FleetGroup, "adjustedP" | "standsOut"> {
  const hits = members.filter(isDrifting).length;
  const overall = drifting / Math.max(1, judged);
  return {
    trait,
    name,
    arrays: members.length,
    drifting: hits,
    share: (hits + PULL * overall) / (members.length + PULL),
    ...wilsonInterval(hits, members.length),
    p: groupTail(hits, members.length, drifting, judged),
  };
}

function isDrifting({ finding }: FleetArray): boolean {
  return DRIFTING.includes(finding.verdict);
}

/** Groups by one trait; a trait that all arrays share, or none has, compares nothing. */
function groupsOf(arrays: readonly FleetArray[], trait: FleetTrait): readonly Compared[] {
  const groups = new Map<string, FleetArray[]>();
  for (const array of arrays) {
    const name = array.traits[trait];
    if (name === undefined) continue;
    const members = groups.get(name) ?? [];
    members.push(array);
    groups.set(name, members);
  }
  if (groups.size < 2) return [];
  return [...groups].map(([name, members]) => ({ trait, name, members }));
}

/** How one array stands in the ranking of a fleet. */
export function rankedOf({ finding, traits, consequence = 1 }: FleetArray): RankedArray {
  const { forecast, verdict } = finding;
  const headline = headlineOf(finding);
  const below = headline.reached !== null;
  const crossings = [forecast?.dry, forecast?.wet].filter((one) => one !== null && one !== undefined);
  const middles = crossings.flatMap(({ middleDays }) => middleDays ?? []);
  const days = below ? 0 : middles.length === 0 ? null : Math.min(...middles);
  // A broken detector hides a fault: it counts as an even chance.
  const unwatched = verdict === "sensor" ? 0.5 : 0;
  const forecasted = Math.max(unwatched, ...crossings.map((crossing) => crossing.withinYear), 0);
  const judged = below || verdict === "sensor" || crossings.length > 0;
  const withinYear = !judged ? null : below ? 1 : forecasted;
  const reason = reasonOf(finding, days);
  return {
    array: finding.array,
    site: traits.site ?? null,
    verdict,
    headline,
    days,
    withinYear,
    consequence,
    weight: (withinYear ?? 0) * consequence,
    reason,
    visit: dueVisit(finding, { headline, withinYear, reason }),
  };
}

function reasonOf({ verdict, threshold, belowLately }: HistoryFinding, days: number | null): string {
  if (belowLately !== null && belowLately.lastOn !== null)
    return belowLatelyWords({ ...belowLately, lastOn: belowLately.lastOn });
  if (verdict === "sensor") return "Its detector cannot be believed: a fault would be hidden.";
  if (verdict === "too-little-data") return "Too little data to judge.";
  if (threshold === null || threshold === undefined) return "No threshold is known for it.";
  if (days === null) return "Not within five years as it goes now.";
  return `At the threshold in ${days} ${days === 1 ? "day" : "days"}, dry or wet, whichever is first.`;
}
