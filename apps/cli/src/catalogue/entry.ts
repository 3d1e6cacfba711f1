/** One thing the program can say, explained. */
export interface Entry {
  /** What is printed with the message. Never changes. */
  readonly code: string;
  readonly group: string;
  readonly title: string;
  readonly meaning: string;
  /** How it usually comes about. */
  readonly causes?: readonly string[];
  /** What to do next. */
  readonly next: string;
  /** fault, caution or note, for what an assessment finds. */
  readonly severity?: string;
  /** Where the rule behind it comes from, with its tag. */
  readonly from?: string;
}
