export { type PendingMessage, type PlannedMessage, planMessages } from "./plan-messages.ts";
export { groupAlarms, isFlood, type SharedCause, type StormAlarm, type StormGroup } from "./storm-group.ts";
