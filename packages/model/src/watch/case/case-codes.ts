import type { CodePage } from "../refusal.ts";

/** Why a step on a case was refused. */
export const caseCodes = {
  CASE_STEP_AFTER_CLOSE: {
    title: "The case is closed",
    meaning: "A signed close ends a case. A fault that comes again opens a new one, linked to this.",
    next: "Work in the new case, or add a remark to this one.",
  },
  CASE_INSTANT_INVALID: {
    title: "The instant of a step is unsound",
    meaning: "Steps are dated in whole milliseconds since 1970 in UTC.",
    next: "Give the instant at which the step was taken.",
  },
  CASE_NAME_MISSING: {
    title: "Nobody's name is given",
    meaning: "Every step of a case is answered for by a named person.",
    next: "Give the name of the person.",
  },
  CASE_TEXT_MISSING: {
    title: "The text is empty",
    meaning: "A cause or a remark without words tells the next person nothing.",
    next: "Write what was found or done.",
  },
  CASE_SIGN_WHILE_ACTIVE: {
    title: "The fault is still there",
    meaning:
      "A cause is signed once the fault is gone; while it is there nobody can know that it was the cause.",
    next: "Repair, see the alarms of the case clear, then sign.",
  },
  CASE_REPAIR_INVALID: {
    title: "The instant of the repair does not fit",
    meaning:
      "A repair from before the fault last began did not mend it; one after the signature cannot be signed.",
    next: "Correct the instant. If the fault came back after the repair, find what is left of it first.",
  },
  CASE_OHMS_INVALID: {
    title: "The insulation value is unsound",
    meaning: "Measured and required insulation are finite numbers of ohms, 0 or more.",
    next: "Enter the reading of the tester, and the value it must reach.",
  },
  CASE_NEEDS_UNMET: {
    title: "The case lacks something before it can close",
    meaning:
      "A case closes with no alarm active, a cause signed, insulation measured after the repair and high enough, and the owner told, all after the last sign of the fault.",
    next: "Do what the refusal lists.",
  },
} as const satisfies Readonly<Record<`CASE_${string}`, CodePage>>;

export type CaseCode = keyof typeof caseCodes;
