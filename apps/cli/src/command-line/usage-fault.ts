/** One thing that is wrong with the command line itself. */
export interface UsageFault {
  /** Stable for ever; `earthbell explain CODE` tells more. */
  readonly code: string;
  readonly message: string;
  /** Words that would be accepted. */
  readonly suggestions: readonly string[];
  /** true: the suggestions are close to what was typed; false: they are all there is. */
  readonly near: boolean;
}
