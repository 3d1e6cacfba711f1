import type { Alarm } from "../alarm/alarm.ts";
import { durationText, instantText } from "../grounds.ts";
import { WATCH_LIMITS, type WatchLimits } from "../limits.ts";
import { DAY } from "../time/span.ts";
import { SIGNS } from "../sign.ts";
import { type Case, withEntry } from "./case.ts";

/** The cases of an array as they stand when one of its alarms changes. */
export interface CasesOfArray {
  readonly open: Case | null;
  readonly lastClosed: Case | null;
}

/** What the alarm makes of the array's cases; null stands for "as before". */
export interface Followed {
  readonly open: Case | null;
  /** The earlier case with a line added that names the new one; null unless the fault has come back. */
  readonly earlier: Case | null;
  readonly outcome: "opened" | "merged" | "none";
  readonly reason: string;
}

/**
 * Brings a changed alarm into the case of its array: opens one at the first sign of a fault, and takes every further
 * sign of the array into the open one. A fault soon after a signed close opens a new case that is linked to the closed
 * one: a signed close stays as it was signed.
 *
 * @param newId  id for a case that has to be opened
 * @param at     instant of the change
 */
export function followAlarm(
  cases: CasesOfArray,
  alarm: Alarm,
  change: { readonly at: number; readonly newId: string },
  limits: WatchLimits = WATCH_LIMITS,
): Followed {
  const { subject } = alarm;
  if (subject.kind !== "array")
    return {
      open: cases.open,
      earlier: null,
      outcome: "none",
      reason: "It is about a path, not about an array.",
    };
  if (cases.open !== null) {
    const open = merged(cases.open, alarm, change.at);
    return { open, earlier: null, outcome: "merged", reason: `It belongs to the open case ${open.id}.` };
  }
  const traits = SIGNS[alarm.sign];
  const waits = alarm.condition === "active" || alarm.latched;
  if (!traits.opensCase || !waits)
    return { open: null, earlier: null, outcome: "none", reason: `${traits.title}: no case is needed.` };
  return opened(cases.lastClosed, alarm, subject.array, change, limits);
}

function opened(
  lastClosed: Case | null,
  alarm: Alarm,
  array: string,
  { at, newId }: { readonly at: number; readonly newId: string },
  limits: WatchLimits,
): Followed {
  const since = lastClosed?.closed ? at - lastClosed.closed.at : Infinity;
  const earlier = since <= limits.recurrenceD.value * DAY ? lastClosed : null;
  const reason =
    earlier === null
      ? `Opened by: ${SIGNS[alarm.sign].title}.`
      : `Opened by: ${SIGNS[alarm.sign].title}. Case ${earlier.id} of the same array was closed ${durationText(Math.max(since, 0))} before: its cause may not have been the whole cause.`;
  const empty: Case = {
    id: newId,
    site: alarm.site,
    array,
    openedAt: at,
    recurrenceOf: earlier?.id ?? null,
    alarms: [],
    presentAlarms: [],
    latchedAlarms: [],
    lastBeganAt: alarm.activeAt ?? at,
    cause: null,
    measured: null,
    ownerTold: null,
    closed: null,
    timeline: [{ at, by: null, text: reason }],
  };
  const cameBack = `The fault came back: case ${newId}, opened ${instantText(at)}.`;
  return {
    open: merged(empty, alarm, at),
    earlier: earlier === null ? null : withEntry(earlier, at, null, cameBack),
    outcome: "opened",
    reason,
  };
}

function merged(one: Case, alarm: Alarm, at: number): Case {
  const { id, sign, condition, activeAt, latched } = alarm;
  const { faultPresent, title } = SIGNS[sign];
  const followed: Case = {
    ...one,
    presentAlarms: listing(one.presentAlarms, id, faultPresent && condition === "active"),
    latchedAlarms: listing(one.latchedAlarms, id, latched),
    lastBeganAt: faultPresent && activeAt !== null ? Math.max(one.lastBeganAt, activeAt) : one.lastBeganAt,
  };
  if (one.alarms.includes(id)) return followed;
  const joined = { ...followed, alarms: [...one.alarms, id] };
  return withEntry(joined, at, null, `Sign: ${title}.`);
}

function listing(ids: readonly string[], id: string, listed: boolean): readonly string[] {
  if (listed) return ids.includes(id) ? ids : [...ids, id];
  return ids.filter((other) => other !== id);
}
