import { instantText, isInstant } from "../grounds.ts";
import type { WatchLimits } from "../limits.ts";
import { DAY, HOUR } from "../time/span.ts";
import { given, refused } from "../refusal.ts";
import { type Alarm, conditionState } from "./alarm.ts";
import type { AlarmCode } from "./alarm-codes.ts";
import { type AlarmStep, note, type QuietRequest, step, TELL } from "./alarm-event.ts";
import { nameMissing } from "./person-steps.ts";
import { titleOf } from "./pass-time.ts";

type QuietField = "shelf" | "suppression" | "maintenance";

/** Latest end of each kind of quiet, and what to say and to refuse with. */
interface QuietRule {
  readonly latestAt: number;
  readonly tooLong: AlarmCode;
  readonly words: string;
}

function begin(
  alarm: Alarm,
  field: QuietField,
  request: QuietRequest,
  at: number,
  rule: QuietRule,
): AlarmStep {
  const [by, reason] = [given(request.by), given(request.reason)];
  if (by === null) return nameMissing();
  if (reason === null) return refused("ALARM_REASON_MISSING", "Say why the alarm is kept quiet.");
  const { untilAt } = request;
  if (!isInstant(untilAt) || untilAt <= at)
    return refused("ALARM_END_INVALID", `Give an end after ${instantText(at)}.`);
  if (untilAt > rule.latestAt)
    return refused(rule.tooLong, `It may last until ${instantText(rule.latestAt)} at the latest.`);
  const quiet = { by, reason, fromAt: at, untilAt };
  const text = `${titleOf(alarm)}: ${rule.words} by ${by} until ${instantText(untilAt)}: ${reason}`;
  return step({ ...alarm, [field]: quiet }, text, note(at, by, text));
}

function end(
  alarm: Alarm,
  field: QuietField,
  by: string,
  at: number,
  said: { readonly absent: AlarmCode; readonly words: string },
): AlarmStep {
  const name = given(by);
  if (name === null) return nameMissing();
  if (alarm[field] === null) return refused(said.absent, `${titleOf(alarm)}: it is not, or no longer.`);
  const text = `${titleOf(alarm)}: ${said.words} by ${name}.`;
  return step({ ...alarm, [field]: null }, text, note(at, name, text), TELL);
}

/** Puts an alarm that is there on the shelf, at most until the next sunrise: a wet fault comes back by dawn. */
export function shelve(
  alarm: Alarm,
  request: QuietRequest & { readonly nextSunriseAt: number | null },
  at: number,
  limits: WatchLimits,
): AlarmStep {
  if (conditionState(alarm) === "normal")
    return refused("ALARM_SHELF_NOTHING", `${titleOf(alarm)}: it is normal, so there is nothing to shelve.`);
  const longest = at + limits.shelfLongestH.value * HOUR;
  const sunrise = request.nextSunriseAt;
  const latestAt = isInstant(sunrise) && sunrise > at ? Math.min(sunrise, longest) : longest;
  return begin(alarm, "shelf", request, at, { latestAt, tooLong: "ALARM_SHELF_TOO_LONG", words: "shelved" });
}

export function unshelve(alarm: Alarm, by: string, at: number): AlarmStep {
  return end(alarm, "shelf", by, at, { absent: "ALARM_SHELF_ABSENT", words: "taken off the shelf" });
}

export function suppress(alarm: Alarm, request: QuietRequest, at: number, limits: WatchLimits): AlarmStep {
  const latestAt = at + limits.suppressionLongestH.value * HOUR;
  const rule = { latestAt, tooLong: "ALARM_SUPPRESSION_TOO_LONG", words: "suppressed by design" } as const;
  return begin(alarm, "suppression", request, at, rule);
}

export function unsuppress(alarm: Alarm, by: string, at: number): AlarmStep {
  return end(alarm, "suppression", by, at, {
    absent: "ALARM_SUPPRESSION_ABSENT",
    words: "suppression ended",
  });
}

export function beginMaintenance(
  alarm: Alarm,
  request: QuietRequest,
  at: number,
  limits: WatchLimits,
): AlarmStep {
  const latestAt = at + limits.maintenanceLongestD.value * DAY;
  const rule = { latestAt, tooLong: "ALARM_MAINTENANCE_TOO_LONG", words: "taken out of service" } as const;
  return begin(alarm, "maintenance", request, at, rule);
}

export function endMaintenance(alarm: Alarm, by: string, at: number): AlarmStep {
  return end(alarm, "maintenance", by, at, {
    absent: "ALARM_MAINTENANCE_ABSENT",
    words: "returned to service",
  });
}
