import { isInstant } from "../grounds.ts";
import { WATCH_LIMITS, type WatchLimits } from "../limits.ts";
import { refused } from "../refusal.ts";
import type { Alarm } from "./alarm.ts";
import { type AlarmEvent, type AlarmStep, step } from "./alarm-event.ts";
import { clearAlarm, setAlarm } from "./detector-steps.ts";
import { lookEffects, passTime } from "./pass-time.ts";
import { acknowledgeAlarm, signCause } from "./person-steps.ts";
import { beginMaintenance, endMaintenance, shelve, suppress, unshelve, unsuppress } from "./quiet-steps.ts";

function take(alarm: Alarm, event: AlarmEvent, at: number, limits: WatchLimits): AlarmStep {
  switch (event.type) {
    case "set":
      return setAlarm(alarm, at);
    case "cleared":
      return clearAlarm(alarm, at, limits);
    case "acknowledge":
      return acknowledgeAlarm(alarm, event.by, at);
    case "sign-cause":
      return signCause(alarm, event.by, event.cause, at);
    case "shelve":
      return shelve(alarm, event, at, limits);
    case "unshelve":
      return unshelve(alarm, event.by, at);
    case "suppress":
      return suppress(alarm, event, at, limits);
    case "unsuppress":
      return unsuppress(alarm, event.by, at);
    case "begin-maintenance":
      return beginMaintenance(alarm, event, at, limits);
    case "end-maintenance":
      return endMaintenance(alarm, event.by, at);
    case "look":
      return step(alarm, "Time passed.");
  }
}

/**
 * One step of one alarm.
 *
 * Time passes first: what has run out by `at` ends before the event is taken. What a detector reports is never refused;
 * reported twice it changes nothing. What a person asks may be refused, and then nothing has changed, the passing of
 * time included.
 *
 * @param at  instant of the event: of the reading for a detector, of the step for a person
 * @returns the new alarm with effects to carry out, or a refusal by code (`ALARM_…`); never throws
 */
export function transition(
  alarm: Alarm,
  event: AlarmEvent,
  at: number,
  limits: WatchLimits = WATCH_LIMITS,
): AlarmStep {
  if (!isInstant(at))
    return refused("ALARM_INSTANT_INVALID", "Give the instant of the step in milliseconds UTC.");
  const passed = passTime(alarm, at, limits);
  const taken = take(passed.alarm, event, at, limits);
  if (!taken.ok) return taken;
  const effects = [...passed.effects, ...taken.effects, ...lookEffects(taken.alarm, limits)];
  return { ...taken, effects };
}
