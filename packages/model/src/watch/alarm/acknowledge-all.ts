import type { Effect } from "../effect.ts";
import { WATCH_LIMITS, type WatchLimits } from "../limits.ts";
import type { Alarm } from "./alarm.ts";
import { transition } from "./transition.ts";

/** What one person's answer to one message does to the alarms of a case. */
export interface AcknowledgedAll {
  readonly alarms: readonly Alarm[];
  readonly effects: readonly Effect[];
  /** Ids of the alarms that the answer acknowledged; the others had nothing to acknowledge, or came after it. */
  readonly acknowledged: readonly string[];
}

/** Acknowledges whatever waits for it. An alarm that came after the instant of the answer stays unacknowledged. */
export function acknowledgeAll(
  alarms: readonly Alarm[],
  by: string,
  at: number,
  limits: WatchLimits = WATCH_LIMITS,
): AcknowledgedAll {
  const steps = alarms.map((alarm) => ({
    alarm,
    step: transition(alarm, { type: "acknowledge", by }, at, limits),
  }));
  return {
    alarms: steps.map(({ alarm, step }) => (step.ok ? step.alarm : alarm)),
    effects: steps.flatMap(({ step }) => (step.ok ? step.effects : [])),
    acknowledged: steps.flatMap(({ alarm, step }) => (step.ok ? [alarm.id] : [])),
  };
}
