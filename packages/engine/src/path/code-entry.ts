import type { Severity } from "../assess/assessment.ts";
import type { Tag } from "../provenance.ts";

/** What a finding does to the verdict of its path; `none` leaves it alone. */
export type Effect = "falls-short" | "cannot-tell" | "unproven" | "none";

/** One kind of finding about a path: what it means and what to do next. Codes never change; words may. */
export interface PathCodeEntry {
  readonly title: string;
  readonly meaning: string;
  readonly next: string;
  readonly severity: Severity;
  readonly effect: Effect;
  /** Where the rule behind the finding comes from. */
  readonly source: string;
  readonly tag: Tag;
}
