export { type AcknowledgedAll, acknowledgeAll } from "./acknowledge-all.ts";
export {
  type Alarm,
  type AlarmState,
  alarmState,
  type Chatter,
  conditionState,
  type NamedStep,
  newAlarm,
  type Quiet,
  quietOf,
} from "./alarm.ts";
export type { AlarmCode } from "./alarm-codes.ts";
export type { AlarmEvent, AlarmStep, QuietRequest } from "./alarm-event.ts";
export { isStale, nextLookAt } from "./pass-time.ts";
export { transition } from "./transition.ts";
