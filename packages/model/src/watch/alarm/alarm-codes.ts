import type { CodePage } from "../refusal.ts";

/** Why a step on an alarm was refused. */
export const alarmCodes = {
  ALARM_INSTANT_INVALID: {
    title: "The instant of a step is unsound",
    meaning: "Steps are dated in whole milliseconds since 1970 in UTC.",
    next: "Give the instant at which the step was taken.",
  },
  ALARM_NAME_MISSING: {
    title: "Nobody's name is given",
    meaning: "Whoever acknowledges, signs, shelves or takes out of service answers for it by name.",
    next: "Give the name of the person.",
  },
  ALARM_REASON_MISSING: {
    title: "No reason is given",
    meaning: "An alarm is kept quiet only with a reason that the next person can read.",
    next: "Write the reason in a few words.",
  },
  ALARM_CAUSE_MISSING: {
    title: "No cause is given",
    meaning: "A latched alarm is released by the cause that was found, not by a click.",
    next: "Write what was found.",
  },
  ALARM_ACKNOWLEDGE_NOTHING: {
    title: "There is nothing to acknowledge",
    meaning: "The alarm is normal, or is cleared and acknowledged already.",
    next: "Look at the state of the alarm again. A latched alarm waits for a signed cause.",
  },
  ALARM_ACKNOWLEDGE_EARLIER: {
    title: "The acknowledgement is older than the alarm",
    meaning:
      "The alarm came again after the instant of this acknowledgement, which therefore does not cover it.",
    next: "Look at the alarm as it is now and acknowledge that.",
  },
  ALARM_SIGN_WHILE_ACTIVE: {
    title: "The alarm is still active",
    meaning:
      "A cause is signed once the fault is gone; while it is active nobody can know that it was the cause.",
    next: "Repair, see the alarm clear, then sign.",
  },
  ALARM_SIGN_NOTHING: {
    title: "There is no latch to release",
    meaning:
      "The alarm is not latched: it never came, was signed already, or is of a kind that does not latch.",
    next: "Look at the state of the alarm again.",
  },
  ALARM_SHELF_NOTHING: {
    title: "There is nothing to shelve",
    meaning: "Shelving quiets an alarm that is there. Shelved in advance it would hide the fault that comes.",
    next: "For planned work take the alarm out of service, with an end.",
  },
  ALARM_SHELF_TOO_LONG: {
    title: "The shelf is too long",
    meaning: "A wet fault comes back by dawn and must be heard then, so no shelf outlasts the next sunrise.",
    next: "End it at or before the instant named with the refusal; shelve again then, if you must.",
  },
  ALARM_SHELF_ABSENT: {
    title: "The alarm is not on the shelf",
    meaning: "It was taken off before, or its time ran out.",
    next: "Look at the state of the alarm again.",
  },
  ALARM_MAINTENANCE_TOO_LONG: {
    title: "Maintenance is too long",
    meaning:
      "An alarm that is out of service protects nobody, so its time is bounded and is renewed by name.",
    next: "End it at or before the instant named with the refusal and renew it then.",
  },
  ALARM_MAINTENANCE_ABSENT: {
    title: "The alarm is not out of service",
    meaning: "It was returned to service before, or its time ran out.",
    next: "Look at the state of the alarm again.",
  },
  ALARM_SUPPRESSION_TOO_LONG: {
    title: "Suppression by design is too long",
    meaning: "A rule that suppresses an alarm does so for a bounded time and looks again.",
    next: "End it at or before the instant named with the refusal.",
  },
  ALARM_SUPPRESSION_ABSENT: {
    title: "The alarm is not suppressed",
    meaning: "The rule let go of it before, or its time ran out.",
    next: "Look at the state of the alarm again.",
  },
  ALARM_END_INVALID: {
    title: "The end of the quiet time is unsound",
    meaning: "An alarm is kept quiet until an instant that lies ahead.",
    next: "Give an end in the future.",
  },
} as const satisfies Readonly<Record<`ALARM_${string}`, CodePage>>;

export type AlarmCode = keyof typeof alarmCodes;
