import { given, type Refused, refused } from "../refusal.ts";
import { type Alarm, conditionState } from "./alarm.ts";
import type { AlarmCode } from "./alarm-codes.ts";
import { type AlarmStep, note, step } from "./alarm-event.ts";
import { titleOf } from "./pass-time.ts";

export function nameMissing(): Refused<AlarmCode> {
  return refused("ALARM_NAME_MISSING", "Give the name of the person who answers for this step.");
}

/** An active alarm may be acknowledged again: that renews how long the acknowledgement holds. */
export function acknowledgeAlarm(alarm: Alarm, by: string, at: number): AlarmStep {
  const name = given(by);
  const title = titleOf(alarm);
  if (name === null) return nameMissing();
  const state = conditionState(alarm);
  if (state === "normal" || state === "latched-acknowledged")
    return refused("ALARM_ACKNOWLEDGE_NOTHING", `${title}: nothing waits for an acknowledgement.`);
  if (alarm.activeAt !== null && at < alarm.activeAt)
    return refused(
      "ALARM_ACKNOWLEDGE_EARLIER",
      `${title}: it came again after this acknowledgement. Acknowledge it as it is now.`,
    );
  const text = `${title}: acknowledged by ${name}.`;
  return step({ ...alarm, acknowledged: { by: name, at } }, text, note(at, name, text));
}

/** Releases the latch. Whoever signs a cause has seen the alarm, so the signature acknowledges it as well. */
export function signCause(alarm: Alarm, by: string, cause: string, at: number): AlarmStep {
  const [name, found] = [given(by), given(cause)];
  const title = titleOf(alarm);
  if (name === null) return nameMissing();
  if (found === null) return refused("ALARM_CAUSE_MISSING", "Write what was found to be the cause.");
  if (!alarm.latched) return refused("ALARM_SIGN_NOTHING", `${title}: there is no latch to release.`);
  if (alarm.condition === "active")
    return refused("ALARM_SIGN_WHILE_ACTIVE", `${title}: still active. See it clear, then sign.`);
  const acknowledged = alarm.acknowledged ?? { by: name, at };
  const text = `${title}: cause signed by ${name}: ${found}`;
  return step({ ...alarm, latched: false, acknowledged }, text, note(at, name, text));
}
