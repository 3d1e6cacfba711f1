import type { PathCodeEntry } from "./code-entry.ts";

const practice = { source: "trade practice", tag: "common practice" } as const;
const ours = { source: "rule of this program", tag: "design choice" } as const;

/** Findings about who a message goes to, how often it is repeated and what stops it. */
export const messageCodes = {
  PATH_RECIPIENTS_NONE: {
    title: "The message reaches nobody",
    meaning: "No recipient has an address, reads messages and still holds the post.",
    next: "Name at least two people who read messages, each with an address.",
    severity: "fault",
    effect: "falls-short",
    ...practice,
  },
  PATH_RECIPIENTS_TOO_FEW: {
    title: "Only one person gets the message",
    meaning: "One illness, one full mailbox or one changed post and the alarm is lost.",
    next: "Add a second person with an address of their own.",
    severity: "fault",
    effect: "falls-short",
    ...practice,
  },
  PATH_RECIPIENT_UNKNOWN: {
    title: "A recipient is not among the people of the site",
    meaning: "The path names somebody of whom nothing is recorded.",
    next: "Add the person with an address and reading hours, or take the name off the path.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_RECIPIENT_NO_ADDRESS: {
    title: "A recipient has no address",
    meaning: "Nothing can be sent to this person.",
    next: "Record an e-mail address or a telephone number.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_RECIPIENT_SAME_ADDRESS: {
    title: "Two recipients share one address",
    meaning: "Two names behind one mailbox fail together, so they count as one.",
    next: "Give each person an address of their own.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_RECIPIENT_LEFT: {
    title: "A recipient no longer answers for the site",
    meaning: "The post of this person ended before the day of this judgement.",
    next: "Replace the person on the path.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_RECIPIENT_END_NOT_JUDGED: {
    title: "A recipient's post has an end and no date was given",
    meaning:
      "Without a date nobody can say whether this person still answers; judged as if the post had ended.",
    next: "Give the date of the judgement.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_RECIPIENT_AWAY: {
    title: "A recipient is away",
    meaning: "On the day of this judgement this person is on a recorded absence.",
    next: "Name a stand-in for the absence.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_RECIPIENT_NEVER_READS: {
    title: "A recipient never reads messages",
    meaning: "The reading hours are empty or the person looks zero times a day.",
    next: "Correct the hours, or name somebody who reads.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_RECIPIENT_HABITS_UNKNOWN: {
    title: "When a recipient reads is not stated",
    meaning: "Judged at its worst: one look a day in office hours from Monday to Friday.",
    next: "Record the reading hours and how often a day the person looks.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_REPEAT_UNKNOWN: {
    title: "Whether the message is repeated is not stated",
    meaning: "Judged as sent once. A single message is easily passed over.",
    next: "Set the repeat to 60 min, the interval in common use, and record it.",
    severity: "caution",
    effect: "none",
    ...practice,
  },
  PATH_REPEAT_SLOW: {
    title: "The message is repeated less often than hourly",
    meaning: "Hourly repetition is common practice; no standard seen sets a rate.",
    next: "Set the repeat to 60 min or less, or record why not.",
    severity: "caution",
    effect: "none",
    ...practice,
  },
  PATH_STOP_UNKNOWN: {
    title: "What stops the message is not stated",
    meaning: "A repeat that nothing stops is switched off for good by the first person it annoys.",
    next: "Let it repeat until somebody acknowledges it or the fault is cleared, and record that.",
    severity: "caution",
    effect: "none",
    ...practice,
  },
  PATH_STOP_WITHOUT_PERSON: {
    title: "Only the clearing of the fault stops the message",
    meaning:
      "A wet fault clears itself by late morning. The message stops, nobody has answered, and it returns at the next dew.",
    next: "Let an acknowledgement stop it too, and keep the case open until somebody signs for a found cause.",
    severity: "note",
    effect: "none",
    ...ours,
  },
} as const satisfies Readonly<Record<`PATH_${string}`, PathCodeEntry>>;

/** Findings about the link that carries a message. */
export const linkCodes = {
  PATH_LINK_UNKNOWN: {
    title: "How dependable the link is, is not stated",
    meaning: "Judged at its worst: down one tenth of the time, for a day at a stretch.",
    next: "Record the availability of the link and the mean length of an outage from its own history.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_LINK_DEAD: {
    title: "The link is never up",
    meaning: "With an availability of zero no message leaves the site.",
    next: "Restore the link or use another signal.",
    severity: "fault",
    effect: "falls-short",
    ...ours,
  },
  PATH_LINK_WEAK: {
    title: "The link is down more than one hour in twenty",
    meaning: "An alarm sent over it often waits for the link to come back.",
    next: "Improve the link or add a signal that does not need it.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_LINK_UNSUPERVISED: {
    title: "Nobody would notice that the link went quiet",
    meaning: "A silent path looks like a healthy site. Nothing on record reports the absence of messages.",
    next: "Have the link report in at least daily and treat silence as a fault.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_SUPERVISION_SLOW: {
    title: "A silent link is noticed only after more than a day",
    meaning: "The link reports in less often than once in 24 h.",
    next: "Have it report in at least daily.",
    severity: "caution",
    effect: "none",
    ...ours,
  },
  PATH_PASSWORD_DEFAULT: {
    title: "The installer password was never changed",
    meaning: "Anybody who knows the delivered password can switch the message off or send it elsewhere.",
    next: "Change it, record that it was changed, and check the message settings.",
    severity: "caution",
    effect: "none",
    ...practice,
  },
} as const satisfies Readonly<Record<`PATH_${string}`, PathCodeEntry>>;
