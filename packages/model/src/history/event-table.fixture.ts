import type { InputFault } from "../faults/input-fault.ts";

type Wrong = readonly [
  what: string,
  text: string,
  /** A piece of the sound mapping, and what stands in its place. */
  change: readonly [string, string] | null,
  fault: Partial<InputFault>,
];

const HEAD = "Zeit;Nummer;Meldung;Zustand;Generator";

/** Logs that cannot be read by the sound mapping, or by a changed one. */
export const WRONG_EVENT_TABLES: readonly Wrong[] = [
  ["nothing in it", "", null, { code: "HISTORY_TABLE_EMPTY" }],
  [
    "a column missing",
    "Zeit;Nummer;Meldung;Zustant;Generator\n",
    null,
    { code: "HISTORY_COLUMN_UNKNOWN", line: 1, field: "state", value: "Zustand" },
  ],
  [
    "a cell too few",
    `${HEAD}\n2026-06-01 07:12;301;x;kommt\n`,
    null,
    { code: "HISTORY_ROW_LENGTH_WRONG", line: 2 },
  ],
  [
    "an instant that is none",
    `${HEAD}\n2026-06-01 07:12;301;x;kommt;\n01.06.;301;x;geht;\n`,
    null,
    { code: "HISTORY_INSTANT_INVALID", line: 3, field: "Zeit", value: "01.06." },
  ],
  [
    "local times and no zone",
    `${HEAD}\n2026-06-01 07:12;301;x;kommt;\n2026-06-01 07:13;301;x;geht;\n`,
    ["zone: Europe/Berlin\n", ""],
    { code: "HISTORY_ZONE_MISSING", line: 2 },
  ],
  [
    "a state of no meaning",
    `${HEAD}\n2026-06-01 07:12;301;x;steht;\n`,
    null,
    {
      code: "HISTORY_EVENT_STATE_UNKNOWN",
      line: 2,
      field: "Zustand",
      value: "steht",
      allowed: "kommt, geht",
    },
  ],
  [
    "an event that is not known where all have to be",
    `${HEAD}\n2026-06-01 07:12;17;x;kommt;\n`,
    ["others: pass", "others: refuse"],
    { code: "HISTORY_EVENT_UNKNOWN", line: 2, field: "Nummer", value: "17" },
  ],
];
