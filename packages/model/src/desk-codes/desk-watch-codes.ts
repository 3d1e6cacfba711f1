import type { CodePage } from "../watch/refusal.ts";

/** Why the desk did not take a step that somebody asked of its watch. */
export const deskWatchCodes = {
  DESK_SITE_UNKNOWN: {
    title: "The desk does not know this site",
    meaning: "No site file with this id has been put in, or it was removed.",
    next: "Check the id, or put the site file in.",
  },
  DESK_PATH_UNKNOWN: {
    title: "The site has no such message path",
    meaning: "Ladders and drills belong to a path of the site file that carries messages.",
    next: "Check the id of the path in the site file.",
  },
  DESK_MATTER_UNKNOWN: {
    title: "There is no such alarm, case or drill",
    meaning: "The id names nothing that the desk has on record.",
    next: "Look the id up in the list of alarms, cases or drills.",
  },
  DESK_NAME_MISSING: {
    title: "Nobody's name is given",
    meaning: "Every step of a person is on record with a name.",
    next: "Give the name of the person who answers for the step.",
  },
  DESK_LADDER_INVALID: {
    title: "The ladder cannot be climbed",
    meaning:
      "Each step of a ladder waits a whole number of minutes, longer than the one before, and names people of the site.",
    next: "Correct the minutes or the names; somebody who is missing belongs into the site file first.",
  },
  DESK_PLAN_INVALID: {
    title: "The drill is planned for no instant to come",
    meaning: "A drill is planned for a whole number of milliseconds since 1970 in UTC that lies ahead.",
    next: "Give a later instant, or start the drill now.",
  },
  DESK_REHEARSAL_NO_FAULT: {
    title: "The readings of this drill show no fault",
    meaning:
      "A drill by a device begins with a simulated fault: a fault bit, a trip, or insulation below its threshold.",
    next: "Simulate a fault at the device, or start the drill without one.",
  },
  DESK_LINK_UNKNOWN: {
    title: "This link is not known",
    meaning: "It was never issued, was cut off on its way, or its message is too old to be on record.",
    next: "Open the link of the newest message, or acknowledge at the desk.",
  },
  DESK_LINK_USED: {
    title: "This link has been used",
    meaning:
      "A link acknowledges once, so that a message passed on later cannot answer for a fault that came since.",
    next: "Look at the state of the case. A newer message has a link of its own.",
  },
  DESK_LINK_EXPIRED: {
    title: "This link has expired",
    meaning: "A link works for a limited time after its message was written.",
    next: "Open the link of the newest message, or acknowledge at the desk.",
  },
  DESK_LINK_OUTDATED: {
    title: "This link no longer tells how things are",
    meaning: "What its message told of has ended or was answered, or it came again after the message.",
    next: "Look at the state of the case, and answer the newest message.",
  },
} as const satisfies Readonly<Record<`DESK_${string}`, CodePage>>;

export type DeskWatchCode = keyof typeof deskWatchCodes;
