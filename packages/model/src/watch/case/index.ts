export {
  type Case,
  type MeasuredInsulation,
  type OwnerTold,
  type SignedCause,
  type TimelineEntry,
  withNotes,
} from "./case.ts";
export type { CaseCode } from "./case-codes.ts";
export { type CaseEffect, type CaseEvent, type CaseStep, caseStep } from "./case-event.ts";
export { type CasesOfArray, type Followed, followAlarm } from "./follow-alarm.ts";
export { type Need, needsToClose } from "./needs.ts";
