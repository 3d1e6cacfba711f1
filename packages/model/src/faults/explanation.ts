/** What one fault code means, for a person who has never seen it. */
export interface Explanation {
  readonly title: string;
  readonly meaning: string;
  readonly causes: readonly string[];
  /** What to do next. */
  readonly remedy: string;
}
