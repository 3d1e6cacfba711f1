/** What a step asks for. Nothing is done here: the desk carries it out in the transaction of the step. */
export type Effect =
  /** Append to the timeline of the alarm's case. */
  | { readonly effect: "note"; readonly at: number; readonly by: string | null; readonly text: string }
  /** Ask `shouldTell` now. */
  | { readonly effect: "tell" }
  /** Let time pass for this record at that instant. */
  | { readonly effect: "look"; readonly at: number };
