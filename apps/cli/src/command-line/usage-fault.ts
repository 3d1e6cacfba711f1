/** One thing that is wrong with the command line itself. */
export interface UsageFault {
  /** Stable for ever; `earthbell explain CODE` tells more. */
  readonly code: string;
  readonly message: string;
  /** Words that would be accepted. */
  readonly suggestions: readonly string[];
  /** The suggestions are close to what was typed, or all there is, or an example of what is wanted, or say what to do. */
  readonly lead: "near" | "all" | "example" | "next";
}
