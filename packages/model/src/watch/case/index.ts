export type { Case, MeasuredInsulation, OwnerTold, SignedCause, TimelineEntry } from "./case.ts";
export type { CaseCode } from "./case-codes.ts";
export { type CaseEffect, type CaseEvent, type CaseStep, caseStep } from "./case-event.ts";
export { type CasesOfArray, type Followed, followAlarm } from "./follow-alarm.ts";
export { type Need, needsToClose } from "./needs.ts";
