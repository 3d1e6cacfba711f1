import type { Explanation } from "./explanation.ts";

/** Faults of a desk's settings that lie between fields. */
export const deskFaults = {
  DESK_UNIT_SHARED: {
    title: "Two devices of one gateway have the same unit id",
    meaning: "Behind one gateway the unit id is all that tells devices apart.",
    causes: ["an entry was copied and not finished"],
    remedy: "Read the unit ids from the devices, and give each its own.",
  },
  DESK_SECRET_SOURCE: {
    title: "A secret has no source, or two",
    meaning:
      "Passwords and keys are not written into the settings; the file names the variable (env) or the file to read one from.",
    causes: ["the password itself was written", "both were given"],
    remedy: "Give env or file, one of the two.",
  },
  DESK_TOPIC_SHARED: {
    title: "Two beacons have the same topic",
    meaning: "A topic keeps one state, so that one beacon would put out what the other has lit.",
    causes: ["an entry was copied and not finished", "one beacon was meant to show several sites"],
    remedy: "Give each beacon its own topic, or list several sites under shows of one beacon.",
  },
  DESK_PAYLOADS_ALIKE: {
    title: "A beacon is told the same for lit and for out",
    meaning: "The topic would hold the same text whether there is a fault, a drill or neither.",
    causes: ["a payload was copied and not changed"],
    remedy:
      "Give on, and drill where it is there, a text of its own; drill may be left out, and is then the same as on.",
  },
  DESK_FOLDER_SHARED: {
    title: "Two entries take files from the same folder",
    meaning: "Which of the two mappings reads a file would be left to chance.",
    causes: ["an entry was copied and not finished"],
    remedy: "Give each kind of file a folder of its own.",
  },
  DESK_SHARE_MISSING: {
    title: "Several connections to a broker have no share",
    meaning: "A share is what makes a broker divide messages among connections.",
    causes: ["share was forgotten"],
    remedy: "Name a share, or leave it at one connection.",
  },
  DESK_PAIR_INCOMPLETE: {
    title: "One of two fields that belong together is missing",
    meaning:
      "A user needs its password, and a certificate its key; one alone would be left unused in silence.",
    causes: ["a line was deleted", "the name of the other field is misspelt"],
    remedy: "Give both, or neither.",
  },
  DESK_PASSWORD_EXPOSED: {
    title: "A password would go over a connection that can be read",
    meaning: "Passwords are sent only over protected connections, or within one machine.",
    causes: ["the protected port is not known", "a relay on the same machine needs no password"],
    remedy: "Use the protected address of the server, or leave the password out.",
  },
  DESK_TEMPLATE_UNREADABLE: {
    title: "The template of a text message's body cannot be read",
    meaning: "The body is JSON or a form; JSON has to be sound before anything is filled in.",
    causes: ["a quote or a bracket is missing", "json and form are both given"],
    remedy: "Correct the JSON, with {to}, {text} and {key} inside quotes, or give form instead.",
  },
  DESK_EVENT_RULE_UNFIT: {
    title: "A rule for events cannot be followed",
    meaning:
      "A rule goes by the event column or by the text column, and the rule or a state column says whether the fault begins or ends.",
    causes: ["a column is not named", "the words of the state column are missing", "both ways were given"],
    remedy: "Complete the mapping as described under allowed.",
  },
} as const satisfies Readonly<Record<`DESK_${string}`, Explanation>>;
