/** Kinds of papers that are given to people. */
export const PAPER_KINDS = [
  "owner-notice",
  "design-record",
  "commissioning-record",
  "fault-report",
  "fleet-register",
  "visit-sheet",
  "setting-sheet",
] as const;
export type PaperKind = (typeof PAPER_KINDS)[number];
