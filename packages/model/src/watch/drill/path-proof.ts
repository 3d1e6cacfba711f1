import { type Minutes, monthsLater, type Proof } from "@earthbell/engine";
import { DRILL_LIMITS } from "./drill-limits.ts";
import type { WatchLimits } from "../limits.ts";
import { MINUTE } from "../time/span.ts";
import { instantOf, localTime } from "../time/zone.ts";
import { missedWords } from "./drill.ts";
import type { Drill } from "./drill-record.ts";

/** Whether drills prove a path today. */
export interface PathProof {
  readonly state: "proven" | "broken" | "overdue" | "unproven";
  readonly text: string;
  /** What mends it, said to those who hold drills; null where nothing is to be done yet. */
  readonly order: string | null;
  /** Last local date on which the proof holds, or held; null without a passed drill. */
  readonly dueOn: string | null;
}

/** The proof that a passed drill is, as the site's assessment takes it: dated by the site's day, timed by the slowest answer. */
export function proofOfDrill(drill: Drill, zone: string): Proof | null {
  if (drill.ended?.outcome !== "passed") return null;
  // A beacon was seen before the last answer, which puts it out; when that was said makes no path slower.
  const answers = drill.recipients.map(({ acknowledgedAt }) => acknowledgedAt ?? drill.answerByAt);
  const minutes = (Math.max(...answers) - drill.startedAt) / MINUTE;
  return {
    path: drill.path,
    kind: "drill",
    on: localTime(drill.startedAt, zone).date,
    ...(drill.by === null ? {} : { by: drill.by }),
    acknowledgedAfter: minutes as Minutes,
  };
}

/**
 * What the drills of one path prove on a day. The newest ended drill decides: a missed one breaks the proof that an earlier
 * one gave, since the path is now known not to reach somebody.
 */
export function pathProof(
  drills: readonly Drill[],
  zone: string,
  now: number,
  limits: Pick<WatchLimits, "drillHoldsMonths"> = DRILL_LIMITS,
): PathProof {
  const ended = drills.filter((drill) => drill.ended !== null);
  const newest = ended.toSorted((one, other) => other.startedAt - one.startedAt)[0];
  if (newest === undefined)
    return { state: "unproven", text: "No drill has been held.", order: "Hold one.", dueOn: null };
  const proof = proofOfDrill(newest, zone);
  if (proof === null) {
    const why = missedWords(newest);
    const text = `The drill of ${localTime(newest.startedAt, zone).date} was missed: ${why}. The path is not proven.`;
    return { state: "broken", text, order: "Mend it and hold the drill again.", dueOn: null };
  }
  const dueOn = nextDrillOn(proof.on, limits);
  const overdue = localTime(now, zone).date > dueOn;
  const text = overdue
    ? `The last drill was passed on ${proof.on}; the next was due by ${dueOn}.`
    : `The drill of ${proof.on} was passed; the next is due by ${dueOn}.`;
  return { state: overdue ? "overdue" : "proven", text, order: overdue ? "Hold it." : null, dueOn };
}

/** The date by which a path that passed a drill on a date is rehearsed again; 29 February is followed by the 28th. */
export function nextDrillOn(
  passedOn: string,
  limits: Pick<WatchLimits, "drillHoldsMonths"> = DRILL_LIMITS,
): string {
  return monthsLater(passedOn, limits.drillHoldsMonths.value);
}

/** The instant of a drill planned for a local date and minute; a minute that the clocks skip gives the first one after. */
export function plannedDrillAt(date: string, minuteOfDay: number, zone: string): number {
  return instantOf(date, minuteOfDay, zone);
}
