import type { WatchLimits } from "../limits.ts";
import { type Alarm, latches } from "./alarm.ts";
import { note, step, type Step, TELL } from "./alarm-event.ts";
import { titleOf } from "./pass-time.ts";

/**
 * The detector reports that it began. A new occurrence is unacknowledged; only a late report from before an
 * acknowledgement, with no cause signed since, is covered by it.
 */
export function setAlarm(alarm: Alarm, at: number): Step {
  const title = titleOf(alarm);
  if (alarm.chatter.sinceAt !== null) {
    const chatter = heard(alarm, "active", at);
    return step({ ...alarm, chatter }, `${title}: chatters, and counts as active meanwhile.`);
  }
  if (alarm.condition === "active") return step(alarm, `${title}: already active.`);
  const covered = alarm.latched && alarm.acknowledged !== null && at <= alarm.acknowledged.at;
  const occurred: Alarm = {
    ...alarm,
    condition: "active",
    occurrence: alarm.occurrence + 1,
    activeAt: at,
    clearedAt: null,
    acknowledged: covered ? alarm.acknowledged : null,
    latched: latches(alarm),
    staleAt: null,
  };
  const text = `${title}: active${alarm.occurrence > 0 ? " again" : ""}.`;
  return step(occurred, text, note(at, null, text), TELL);
}

/** The detector reports that it ended. Too many ends within the window are chatter, and the alarm counts as active. */
export function clearAlarm(alarm: Alarm, at: number, limits: WatchLimits): Step {
  const title = titleOf(alarm);
  if (alarm.chatter.sinceAt !== null) {
    const chatter = heard(alarm, "clear", at);
    return step({ ...alarm, chatter }, `${title}: chatters, and counts as active meanwhile.`);
  }
  if (alarm.condition === "clear") return step(alarm, `${title}: already clear.`);
  const windowMs = limits.chatterWindowS.value * 1000;
  const clearsAt = [...alarm.chatter.clearsAt.filter((before) => Math.abs(at - before) <= windowMs), at];
  if (clearsAt.length >= limits.chatterClears.value) {
    const chatter = { clearsAt: [], sinceAt: at, lastHeard: { condition: "clear", at } } as const;
    const text = `${title}: chatters, ${clearsAt.length} times from active to clear within ${limits.chatterWindowS.value} s. It counts as active until it keeps still.`;
    return step({ ...alarm, chatter }, text, note(at, null, text), TELL);
  }
  const cleared: Alarm = {
    ...alarm,
    condition: "clear",
    clearedAt: at,
    chatter: { ...alarm.chatter, clearsAt },
  };
  const text = `${title}: cleared${cleared.latched ? ". It stays on record until a cause is signed" : ""}.`;
  return step(cleared, text, note(at, null, text), TELL);
}

/** A report that comes late does not overrule a later one. */
function heard(alarm: Alarm, condition: "active" | "clear", at: number): Alarm["chatter"] {
  const last = alarm.chatter.lastHeard;
  return last !== null && at < last.at ? alarm.chatter : { ...alarm.chatter, lastHeard: { condition, at } };
}
