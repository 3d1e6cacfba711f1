import type { MessagePath, Person, WeeklyHours } from "@earthbell/engine";
import { daysLater, instantOf, localTime } from "../time/zone.ts";

/** Somebody to tell. Plain JSON. */
export interface TellPerson {
  readonly id: string;
  /** IANA zone of the person's hours and days. */
  readonly zone: string;
  /** Hours of the week in which this person reads; absent or empty: not known, any hour will do. */
  readonly reads?: WeeklyHours;
  /** First and last day of absences, YYYY-MM-DD. */
  readonly away?: readonly { readonly from: string; readonly to: string }[];
  /** Last day on which this person answers for the site, YYYY-MM-DD. */
  readonly until?: string;
  /** Messages to this person come back, or cannot be handed over. */
  readonly broken?: { readonly sinceAt: number; readonly reason: string };
}

/** A step of the escalation ladder: whom to tell when nobody has answered for so long. */
export interface Rung {
  readonly afterMin: number;
  readonly to: readonly string[];
  /** Local to each person; absent: at any hour. */
  readonly hours?: WeeklyHours;
}

/** A path as the watch tells people by it. Plain JSON. */
export interface TellPath {
  readonly id: string;
  readonly site: string;
  readonly to: readonly string[];
  /** Absent: hourly. */
  readonly repeatEveryMin?: number;
  /** What stops the repeats; absent or empty: either of the two. */
  readonly until?: readonly ("acknowledged" | "cleared")[];
  /** Ascending by afterMin. */
  readonly ladder?: readonly Rung[];
  /** Obstacles that are disregarded because nobody without one is left (`pathInReach`). */
  readonly disregards?: readonly ObstacleKind[];
}

export type ObstacleKind = "away" | "broken" | "post-ended";

export interface Obstacle {
  readonly kind: ObstacleKind;
  readonly text: string;
  /** When it is over; null where nobody can say. */
  readonly untilAt: number | null;
}

/** What keeps messages from a person at an instant; the gravest where there are several. */
export function obstacleOf(person: TellPerson, now: number): Obstacle | null {
  const today = localTime(now, person.zone).date;
  if (person.until !== undefined && today > person.until) {
    const text = `The post of ${person.id} ended on ${person.until}. Name a successor.`;
    return { kind: "post-ended", text, untilAt: null };
  }
  if (person.broken !== undefined) {
    const text = `Messages to ${person.id} do not arrive: ${person.broken.reason}. Correct the address.`;
    return { kind: "broken", text, untilAt: null };
  }
  const absence = person.away?.find(({ from, to }) => from <= today && today <= to);
  if (absence === undefined) return null;
  const text = `${person.id} is away from ${absence.from} to ${absence.to}.`;
  return { kind: "away", text, untilAt: instantOf(daysLater(absence.to, 1), 0, person.zone) };
}

/** The next local midnight at which an absence of this person begins or ends, or the post ends; null where none is known. */
export function reachChangesAt(person: TellPerson, now: number): number | null {
  const dates = [
    ...(person.away ?? []).flatMap(({ from, to }) => [from, daysLater(to, 1)]),
    ...(person.until === undefined ? [] : [daysLater(person.until, 1)]),
  ];
  const ahead = dates.map((date) => instantOf(date, 0, person.zone)).filter((at) => at > now);
  return ahead.length === 0 ? null : Math.min(...ahead);
}

/** A site's message path and its people, in the watch's terms. The ladder is the desk's to add. */
export function tellPathOf(path: MessagePath, site: string): TellPath {
  return {
    id: path.id,
    site,
    to: path.to,
    ...(path.repeatEvery === undefined ? {} : { repeatEveryMin: path.repeatEvery }),
    ...(path.until === undefined ? {} : { until: path.until }),
  };
}

export function tellPersonOf(person: Person, siteZone: string): TellPerson {
  return {
    id: person.id,
    zone: person.timezone ?? siteZone,
    ...(person.reads === undefined ? {} : { reads: person.reads }),
    ...(person.away === undefined ? {} : { away: person.away }),
    ...(person.until === undefined ? {} : { until: person.until }),
  };
}

export interface ReachedPath {
  readonly path: TellPath;
  /** What was changed about it, and why. */
  readonly remarks: readonly string[];
}

const GRAVEST_LAST: readonly ObstacleKind[] = ["away", "broken", "post-ended"];

/**
 * The path as it has to be used at an instant: a rung below which nobody can be reached is told at once, and where
 * nobody at all can be reached the mildest obstacle is disregarded. Better a message to somebody on leave than none.
 */
export function pathInReach(path: TellPath, people: readonly TellPerson[], now: number): ReachedPath {
  const obstacles = new Map(people.map((person) => [person.id, obstacleOf(person, now)]));
  const reachable = (ids: readonly string[]) => ids.some((id) => obstacles.get(id) === null);
  const ladder = path.ladder ?? [];
  const rungs = [path.to, ...ladder.map(({ to }) => to)];
  if (!rungs.some(reachable)) return lastResort(path, rungs.flat(), obstacles);
  const firstReached = rungs.findIndex(reachable);
  if (firstReached === 0) return { path, remarks: [] };
  const advanced = ladder.map((rung, at) => (at < firstReached ? { ...rung, afterMin: 0 } : rung));
  const text = "Nobody of those to be told first can be reached, so the next ones are told at once.";
  return { path: { ...path, ladder: advanced }, remarks: [text] };
}

function lastResort(
  path: TellPath,
  ids: readonly string[],
  obstacles: ReadonlyMap<string, Obstacle | null>,
): ReachedPath {
  const kinds = new Set(ids.map((id) => obstacles.get(id)?.kind));
  const mildest = GRAVEST_LAST.findIndex((kind) => kinds.has(kind));
  if (mildest === -1) return { path, remarks: [`Path ${path.id} names nobody who is known. Name somebody.`] };
  const disregards = GRAVEST_LAST.slice(0, mildest + 1);
  const text = `Nobody on path ${path.id} can be reached as things should be; it is tried all the same with those who are ${GRAVEST_LAST[mildest]!}.`;
  const advanced = (path.ladder ?? []).map((rung) => ({ ...rung, afterMin: 0 }));
  return { path: { ...path, ladder: advanced, disregards }, remarks: [text] };
}
