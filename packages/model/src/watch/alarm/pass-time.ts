import type { Effect } from "../effect.ts";
import { durationText, instantText } from "../grounds.ts";
import type { WatchLimits } from "../limits.ts";
import { HOUR, MINUTE } from "../time/span.ts";
import { SIGNS } from "../sign.ts";
import { type Alarm, NO_CHATTER, type Quiet } from "./alarm.ts";
import { lookAgain, note, TELL } from "./alarm-event.ts";

interface Passed {
  readonly alarm: Alarm;
  readonly effects: readonly Effect[];
}

const QUIETS = [
  ["shelf", "taken off the shelf"],
  ["suppression", "no longer suppressed"],
  ["maintenance", "back in service"],
] as const satisfies readonly (readonly [keyof Alarm, string])[];

function endQuiet(alarm: Alarm, at: number): Passed {
  const over = QUIETS.filter(([field]) => isOver(alarm[field], at));
  const effects = over.map(([field, words]) => {
    const quiet = alarm[field]!;
    return note(quiet.untilAt, null, `${titleOf(alarm)}: ${words}, the time given by ${quiet.by} is over.`);
  });
  const ended = Object.fromEntries(over.map(([field]) => [field, null]));
  return { alarm: { ...alarm, ...ended }, effects: over.length > 0 ? [...effects, TELL] : [] };
}

function isOver(quiet: Quiet | null, at: number): boolean {
  return quiet !== null && at >= quiet.untilAt;
}

/** A chattering alarm that has kept still takes the condition that the detector last reported. */
function endChatter(alarm: Alarm, at: number, limits: WatchLimits): Passed {
  const heard = alarm.chatter.lastHeard;
  if (alarm.chatter.sinceAt === null || heard === null) return { alarm, effects: [] };
  const stillAt = heard.at + limits.chatterQuietMin.value * MINUTE;
  if (at < stillAt) return { alarm, effects: [] };
  const clear = heard.condition === "clear";
  const calm: Alarm = {
    ...alarm,
    chatter: NO_CHATTER,
    condition: heard.condition,
    clearedAt: clear ? heard.at : null,
  };
  const text = `${titleOf(alarm)}: no longer chatters; ${clear ? "cleared" : "active"} since ${instantText(heard.at)}.`;
  return { alarm: calm, effects: [note(at, null, text), TELL] };
}

/** Active for longer than the limit: said once for each occurrence. */
export function isStale(alarm: Alarm, at: number, limits: WatchLimits): boolean {
  return (
    alarm.condition === "active" &&
    alarm.activeAt !== null &&
    at - alarm.activeAt > limits.staleAfterH.value * HOUR
  );
}

function noteStale(alarm: Alarm, at: number, limits: WatchLimits): Passed {
  if (alarm.staleAt !== null || !isStale(alarm, at, limits)) return { alarm, effects: [] };
  const text = `${titleOf(alarm)}: stale, active for ${durationText(at - alarm.activeAt!)}.`;
  return { alarm: { ...alarm, staleAt: at }, effects: [note(at, null, text), TELL] };
}

/** Brings an alarm up to an instant: what has run out by then has ended. Time that runs backwards changes nothing. */
export function passTime(alarm: Alarm, at: number, limits: WatchLimits): Passed {
  const quiet = endQuiet(alarm, at);
  const calm = endChatter(quiet.alarm, at, limits);
  const stale = noteStale(calm.alarm, at, limits);
  return { alarm: stale.alarm, effects: [...quiet.effects, ...calm.effects, ...stale.effects] };
}

/** The next instant at which time alone changes the alarm; null where there is none. */
export function nextLookAt(alarm: Alarm, limits: WatchLimits): number | null {
  const { chatter, shelf, suppression, maintenance } = alarm;
  const staleFrom =
    alarm.condition === "active" && alarm.staleAt === null && alarm.activeAt !== null
      ? alarm.activeAt + limits.staleAfterH.value * HOUR + 1
      : null;
  const stillAt =
    chatter.lastHeard === null ? null : chatter.lastHeard.at + limits.chatterQuietMin.value * MINUTE;
  const instants = [shelf?.untilAt, suppression?.untilAt, maintenance?.untilAt, staleFrom, stillAt].filter(
    (at) => at !== null && at !== undefined,
  );
  return instants.length === 0 ? null : Math.min(...instants);
}

export function lookEffects(alarm: Alarm, limits: WatchLimits): readonly Effect[] {
  const at = nextLookAt(alarm, limits);
  return at === null ? [] : [lookAgain(at)];
}

export function titleOf(alarm: Alarm): string {
  const { title } = SIGNS[alarm.sign];
  return title.charAt(0).toUpperCase() + title.slice(1);
}
